// An assembly's row and page: what it is made of, what was measured of it, which limit governs its speed.
import { ADVISORY, BALANCE_IS_NOT_STRENGTH, CORRECTION_WEAKENS } from '../../../shared/cautions.ts';
import type { AssemblyRow, AssemblyView } from '../../../shared/assembly-views.ts';
import { say } from '../../../shared/language/index.ts';
import type { CorrectionFeature } from '../../../shared/messages/index.ts';
import type { Standing } from '../../../shared/views.ts';
import {
  baseLayer,
  currentBuild,
  lastCorrection,
  measurementInForceOf,
  suspicionOf,
  UNBOUNDED_RPM,
  type AssemblyState,
  type Floor,
  type MeasurementState,
} from '../../rules/index.ts';
import { questionOf } from './advice-question.ts';
import { defined } from './defined.ts';
import { holdSentence } from './hold-sentence.ts';
import { holdView } from './hold-view.ts';
import { correctionView } from './correction-view.ts';
import { measurementView } from './measurement-view.ts';
import { loadRecord, openHoldIds } from './spindle-view.ts';

export function assemblyRow(floor: Floor, assembly: AssemblyState): AssemblyRow {
  const build = currentBuild(assembly);
  const measurement = measurementInForceOf(assembly, build?.buildId);
  const holds = openHoldIds(floor, 'assembly', assembly.assemblyId);
  const corrected = lastCorrection(assembly, build?.buildId) !== undefined;
  const suspicion = suspicionOf(baseLayer(floor), assembly, measurement?.position ?? 0);
  const { standing, why } = standingOf(floor, { holds, measurement, corrected, suspicion });
  return {
    assemblyId: assembly.assemblyId,
    standing,
    openHoldIds: [...holds],
    ...defined({
      why,
      buildId: build?.buildId,
      massKg: build?.massKg,
      serviceSpeedRpm: build?.serviceSpeedRpm,
      gradeMmS: build?.gradeMmS,
      residualGmm: measurement?.judgement.residualGmm,
      permissibleGmm: measurement?.judgement.permissibleGmm,
      verdict: measurement?.judgement.kind,
      measuredAt: measurement?.at,
      loadedIn: assembly.loadedIn,
    }),
  };
}

interface Standings {
  readonly holds: readonly string[];
  readonly measurement: MeasurementState | undefined;
  readonly corrected: boolean;
  readonly suspicion: ReturnType<typeof suspicionOf>;
}

function standingOf(
  floor: Floor,
  { holds, measurement, corrected, suspicion }: Standings,
): { standing: Standing; why: string | undefined } {
  const first = holds[0] === undefined ? undefined : floor.holds.get(holds[0]);
  if (first !== undefined) return { standing: 'hold', why: holdSentence(first) };
  if (measurement === undefined)
    return {
      standing: 'watch',
      why: corrected
        ? say`corrected and not measured since: measure first`
        : say`not measured since it was last built: measure first`,
    };
  if (measurement.inDoubt !== undefined)
    return { standing: 'watch', why: say`measured on ${measurement.bench}, which is in doubt: ${measurement.inDoubt}` };
  switch (measurement.judgement.kind) {
    case 'within':
      // As the gate says of it.
      if (suspicion !== undefined)
        return {
          standing: 'watch',
          why: say`may be what ${suspicion.spindleId} vibrates from (hold ${suspicion.holdId}): measure first`,
        };
      return { standing: 'in-family', why: undefined };
    case 'exceeds':
      return { standing: 'watch', why: say`exceeds its permissible residual unbalance; a person let it go on` };
    case 'undecided':
      return { standing: 'watch', why: say`undecided within the measuring error: measure again` };
    case 'cannot-be-shown':
      return {
        standing: 'watch',
        why: say`the grade cannot be shown at this speed: reclamping scatters more than is permitted`,
      };
    case 'cannot-judge':
      return { standing: 'no-data', why: say`mass, service speed or grade is not known` };
  }
}

export function assemblyView(floor: Floor, assembly: AssemblyState): AssemblyView {
  const build = currentBuild(assembly);
  const holds = [...floor.holds.values()].filter(
    ({ subject, evidence }) => subject.id === assembly.assemblyId || evidence.assemblyId === assembly.assemblyId,
  );
  return {
    row: assemblyRow(floor, assembly),
    parts: (build?.parts ?? []).map((part) => ({ ...part })),
    measurements: assembly.measurements.map((one) => measurementView(floor, assembly, one)).toReversed(),
    speedStair: speedStair(floor, assembly),
    remarks: [...(build?.remarks ?? [])],
    features: featuresNow(assembly, build).map((feature) => ({ ...feature })),
    corrections: assembly.corrections.map(correctionView).toReversed(),
    loads: assembly.loads.map((load) => ({ ...loadRecord(load), spindleId: load.spindleId })).toReversed(),
    holds: holds.toReversed().map((hold) => holdView(floor, hold)),
    cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH, CORRECTION_WEAKENS],
    ...defined({
      interface: build?.interface,
      centreOfMassMm: build?.centreOfMassMm,
      reclampingUm: build?.reclampingUm,
      builtAt: build?.declared === true ? build.stamp.measuredAt : undefined,
    }),
  };
}

/** As they stood at the newest measurement, which advice is about: with the screws and rings that corrections left there. */
function featuresNow(assembly: AssemblyState, build: ReturnType<typeof currentBuild>): readonly CorrectionFeature[] {
  const newest = assembly.measurements.findLast(({ buildId }) => buildId === build?.buildId);
  const asked = newest === undefined ? undefined : questionOf(assembly, newest);
  return asked?.features ?? build?.features ?? [];
}

type SpeedStep = AssemblyView['speedStair'][number];

/** As the gate counts it: what the measurement in force shows. None where none counts or it is in doubt; the row says why. */
function shownUpToRpmOf(assembly: AssemblyState): number | undefined {
  const measurement = measurementInForceOf(assembly);
  const shown = measurement?.inDoubt === undefined ? measurement?.judgement.shownUpToRpm : undefined;
  return shown === UNBOUNDED_RPM ? undefined : shown;
}

/** Which limit governs: lowest first. */
const SERVICE_SPEED = say`service speed`;

function speedStair(floor: Floor, assembly: AssemblyState): SpeedStep[] {
  const build = currentBuild(assembly);
  const spindle = assembly.loadedIn === undefined ? undefined : floor.spindles.get(assembly.loadedIn);
  const balanced = shownUpToRpmOf(assembly);
  const steps: Omit<SpeedStep, 'governs'>[] = [];
  if (build?.lowestMarkedRpm !== undefined) {
    steps.push({
      what: say`lowest marked maximum`,
      speedRpm: build.lowestMarkedRpm,
      source: build.lowestMarkedPart ?? say`its parts`,
    });
  }
  if (balanced !== undefined) {
    steps.push({
      what: say`balanced up to`,
      speedRpm: balanced,
      source: say`last measurement, error counted (ISO 21940-11, -14)`,
    });
  }
  const max = spindle?.declaration?.maxSpeedRpm;
  if (spindle !== undefined && max !== undefined) {
    steps.push({ what: say`maximum of ${spindle.spindleId}`, speedRpm: max, source: say`the spindle as declared` });
  }
  if (build?.serviceSpeedRpm !== undefined) {
    steps.push({ what: SERVICE_SPEED, speedRpm: build.serviceSpeedRpm, source: say`the build as declared` });
  }
  const sorted = steps.toSorted((a, b) => a.speedRpm - b.speedRpm);
  // The service speed is a wish, not a limit.
  const governing = sorted.find((step) => step.what !== SERVICE_SPEED);
  return sorted.map((step) => ({ ...step, governs: step === governing }));
}
