// What the tool room has to do something about, most pressing first: what stands on hold in a spindle before all else.
import { say } from '../../../shared/language/index.ts';
import type { WorkRow } from '../../../shared/tool-room.ts';
import {
  baseLayer,
  currentBuild,
  isDeviatedFrom,
  lastCorrection,
  measurementInForceOf,
  suspicionOf,
  type AssemblyState,
  type Floor,
} from '../../rules/index.ts';
import { amountWords, factorWords, rpmWords } from '../../../shared/wording.ts';
import { defined } from './defined.ts';
import { openHoldIds } from './spindle-view.ts';

export const WORK_ROWS_MAX = 500;

export function workRows(floor: Floor): WorkRow[] {
  return [...floor.assemblies.values()]
    .flatMap((assembly) => rowOf(floor, assembly) ?? [])
    .toSorted((a, b) => pressing(b) - pressing(a) || b.factor - a.factor || a.row.since - b.row.since)
    .slice(0, WORK_ROWS_MAX)
    .map(({ row }) => row);
}

interface Ranked {
  readonly row: WorkRow;
  readonly factor: number;
}

/** In a spindle and on hold, on hold, in a spindle, neither. */
function pressing({ row: { onHold, loadedIn } }: Ranked): number {
  return (onHold ? 2 : 0) + (loadedIn === undefined ? 0 : 1);
}

function rowOf(floor: Floor, assembly: AssemblyState): Ranked | undefined {
  const build = currentBuild(assembly);
  const wanted =
    build === undefined || isDeviatedFrom(assembly)
      ? undefined
      : (wantedOf(assembly, build.buildId) ?? wantedByHold(floor, assembly, build.buildId));
  if (build === undefined || wanted === undefined) return undefined;
  const { kind, why, since, factor } = wanted;
  const row: WorkRow = {
    assemblyId: assembly.assemblyId,
    kind,
    why,
    since: since ?? build.stamp.measuredAt,
    onHold: openHoldIds(floor, 'assembly', assembly.assemblyId).length > 0,
    features: build.features.length,
    ...defined({ loadedIn: assembly.loadedIn, missesByFactor: factor }),
  };
  return { row, factor: factor ?? 0 };
}

interface Wanted {
  readonly kind: WorkRow['kind'];
  readonly why: string;
  readonly since?: number;
  readonly factor?: number | undefined;
}

/** Within what is permissible, and yet awaited: by its own hold for its speed, or by that of a spindle which suspects it. */
function wantedByHold(floor: Floor, assembly: AssemblyState, buildId: string): Wanted | undefined {
  const { assemblyId } = assembly;
  const tooFast = openHoldIds(floor, 'assembly', assemblyId)
    .map((holdId) => floor.holds.get(holdId))
    .find((hold) => hold?.reason === 'speed-above-balanced');
  if (tooFast !== undefined)
    return {
      kind: 'measure-again',
      why: say`loaded at ${rpmWords(tooFast.evidence.speedRpm ?? 0)}, above what it is balanced for: balance it for that speed, or have it taken out`,
      since: tooFast.raisedAt,
    };
  const suspicion = suspicionOf(baseLayer(floor), assembly, measurementInForceOf(assembly, buildId)?.position ?? 0);
  return suspicion === undefined
    ? undefined
    : {
        kind: 'measure-again',
        why: say`may be what ${suspicion.spindleId} vibrates from (hold ${suspicion.holdId}): measure first`,
        ...defined({ since: floor.holds.get(suspicion.holdId)?.raisedAt }),
      };
}

function wantedOf(assembly: AssemblyState, buildId: string): Wanted | undefined {
  const measurement = measurementInForceOf(assembly, buildId);
  if (measurement === undefined) {
    const correction = lastCorrection(assembly, buildId);
    return correction === undefined
      ? { kind: 'measure', why: say`not measured since it was last built or changed` }
      : { kind: 'measure', why: say`corrected and not measured since`, since: correction.at };
  }
  const { judgement, at: since, inDoubt, bench } = measurement;
  const { factor, errorGmm } = judgement;
  switch (judgement.kind) {
    case 'exceeds':
      return { kind: 'correct', why: say`has ${factorWords(factor ?? 0)} what is permissible`, since, factor };
    case 'undecided': {
      const why = say`undecided within the measuring error of ${amountWords(errorGmm)} g·mm`;
      return { kind: 'measure-again', why, since, factor };
    }
    case 'within':
    case 'cannot-be-shown':
    case 'cannot-judge':
      return inDoubt === undefined
        ? undefined
        : { kind: 'measure-again', why: say`${bench} is in doubt: ${inDoubt}`, since };
  }
}
