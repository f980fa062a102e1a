// A spindle's row on the floor, and its page: what is in it, what it says, against which limits.
import type { LimitQuantity } from '../../../shared/acts.ts';
import { permissibleResidualGmm } from '../../../shared/balance/index.ts';
import { say } from '../../../shared/language/index.ts';
import { limitInForce } from '../../../shared/limit-in-force.ts';
import type { HoldView, SpindleRow, SpindleView, Standing } from '../../../shared/views.ts';
import { amountWords } from '../../../shared/wording.ts';
import {
  hasDoubtedSpeed,
  measurementInForceOf,
  type Floor,
  type LoadRecordState,
  type MeasurementState,
  type SpindleDeclaration,
  type SpindleState,
} from '../../rules/index.ts';
import { aheadSentence, aheadViews } from './ahead-view.ts';
import { defined } from './defined.ts';
import { overrideKeptView } from './headroom-view.ts';
import { holdSentence } from './hold-sentence.ts';
import { holdView } from './hold-view.ts';
import { plannedWorkView, workBeforeView } from './planned-work-view.ts';
import { severitySentence, severityView } from './severity-view.ts';
import { speakingSentence, windowsView } from './windows-view.ts';

export function openHoldIds(floor: Floor, kind: string, id: string): readonly string[] {
  return floor.openHolds.get(`${kind}/${id}`) ?? [];
}

export function spindleRow(floor: Floor, spindle: SpindleState): SpindleRow {
  const { spindleId, declaration, machine, live, gate, state } = spindle;
  const holds = openHoldIds(floor, 'spindle', spindleId);
  const { standing, why } = standingOf(floor, spindle, holds);
  const hasReading = live.lastReadingAt !== undefined;
  return {
    spindleId,
    machine: declaration?.machine ?? say`not declared`,
    cell: declaration?.cell ?? say`not declared`,
    standing,
    state,
    openHoldIds: [...holds],
    ...defined({
      why,
      loaded: loadedView(floor, spindle),
      programmedSpeedRpm: machine?.programmedSpeedRpm,
      actualSpeedRpm: machine?.actualSpeedRpm,
      overridePercent: machine?.overridePercent,
      cutting: machine?.cutting,
      lastReadingAt: live.lastReadingAt,
      speedRpm: hasReading ? live.speedRpm : undefined,
      overallMmS: hasReading ? live.overallMmS : undefined,
      synchronousMmS: live.synchronousMmS,
      expectedMmS: live.expectedMmS,
      comparable: hasReading ? live.comparable : undefined,
      notComparable: live.notComparable,
      overallLimitMmS: limitAt(spindle, 'overall'),
      synchronousLimitMmS: limitAt(spindle, 'synchronous'),
      gateWord: gate?.word,
      overrideKept: overrideKeptView(floor, spindleId)?.words,
    }),
  };
}

interface StandingWhy {
  readonly standing: Standing;
  readonly why: string | undefined;
}

/** On hold comes before everything; then what cannot be told; then what a person should look at. */
function standingOf(floor: Floor, spindle: SpindleState, holds: readonly string[]): StandingWhy {
  const first = holds[0] === undefined ? undefined : floor.holds.get(holds[0]);
  if (first !== undefined) return { standing: 'hold', why: holdSentence(first) };
  const { loaded, live, state, stateWhy, gate } = spindle;
  const assemblyHolds = loaded === undefined ? [] : openHoldIds(floor, 'assembly', loaded.assemblyId);
  const assemblyHold = assemblyHolds[0] === undefined ? undefined : floor.holds.get(assemblyHolds[0]);
  if (assemblyHold !== undefined) return { standing: 'hold', why: holdSentence(assemblyHold) };
  if (state !== 'reporting') return { standing: 'no-data', why: stateWhy };
  if (live.lastReadingAt === undefined) return { standing: 'no-data', why: say`no reading has come yet` };
  if (gate !== undefined && gate.word !== 'NO OBJECTION') return { standing: 'watch', why: gate.why };
  if (hasDoubtedSpeed(spindle))
    return {
      standing: 'watch',
      why: say`its sensor tells another speed than its control: is it the sensor of this spindle?`,
    };
  const near = nearHold(spindle);
  if (near !== undefined) return { standing: 'watch', why: near };
  const { synchronousMmS, expectedMmS, comparable } = live;
  if (comparable && synchronousMmS !== undefined && expectedMmS !== undefined && expectedMmS > 0) {
    const ratio = synchronousMmS / expectedMmS;
    if (ratio > WATCH_RATIO)
      return { standing: 'watch', why: say`its 1× vibration is ${ratio.toFixed(1)} times what is expected` };
  }
  const severe = severitySentence(floor, spindle);
  if (severe !== undefined) return { standing: 'watch', why: severe };
  const ahead = aheadSentence(floor, spindle);
  if (ahead !== undefined) return { standing: 'watch', why: ahead };
  const speaking = speakingSentence(floor, spindle.spindleId);
  if (speaking !== undefined) return { standing: 'watch', why: speaking };
  const unjudged = nothingToJudgeBy(spindle);
  if (unjudged !== undefined) return { standing: 'no-data', why: unjudged };
  return { standing: 'in-family', why: undefined };
}

/** Readings alone put nothing in family: one has to be comparable, with a limit or with what was learned. */
function nothingToJudgeBy({ declaration, live }: SpindleState): string | undefined {
  if (live.lastComparableAt === undefined) return say`none of its readings could be compared yet`;
  const learned = [...live.bins.values()].some(
    ({ line, severity }) => line !== undefined || severity?.usualSetAt !== undefined,
  );
  if (learned || (declaration?.limits.length ?? 0) > 0 || declaration?.zones !== undefined) return undefined;
  return say`no limit is declared for it, and what to expect of it is not learned yet`;
}

/** Over a limit, but not yet for long enough to be held; or let run on over it by a person. */
function nearHold({ declaration, live }: SpindleState): string | undefined {
  const index = live.watches.findIndex((watch) => watch.count > 0);
  const limit = declaration?.limits[index];
  const watch = live.watches[index];
  if (limit === undefined || watch === undefined) return undefined;
  const quantity = limit.quantity === 'overall' ? say`overall vibration` : say`1× vibration`;
  if (watch.fired)
    return say`${quantity} is still over its limit of ${amountWords(limit.limitMmS)} mm/s; a person let it run on`;
  return say`${quantity} over its limit of ${amountWords(limit.limitMmS)} mm/s in ${watch.count} readings, not yet for long`;
}

/** So many times what is expected is worth a look: clampings scatter by a factor of two. Common practice, no source. */
export const WATCH_RATIO = 3;

/** At the programmed speed where one is known, else at the service speed (ISO 21940-11). */
function permissibleAt(
  measurement: MeasurementState | undefined,
  programmedRpm: number | undefined,
): number | undefined {
  const { massKg, gradeMmS, permissibleGmm } = measurement?.judgement ?? {};
  if (massKg === undefined || gradeMmS === undefined || !(programmedRpm !== undefined && programmedRpm > 0))
    return permissibleGmm;
  return permissibleResidualGmm({ massKg, gradeMmS, serviceSpeedRpm: programmedRpm });
}

function loadedView(floor: Floor, { loaded, machine }: SpindleState): SpindleRow['loaded'] {
  if (loaded === undefined) return undefined;
  const { assemblyId, buildId, at, ordinal, residualGmm } = loaded;
  const assembly = floor.assemblies.get(assemblyId);
  const measurement = assembly === undefined ? undefined : measurementInForceOf(assembly, buildId);
  return {
    assemblyId,
    at,
    ordinal,
    ...defined({ buildId, residualGmm, permissibleGmm: permissibleAt(measurement, machine?.programmedSpeedRpm) }),
  };
}

/** The limit in force at the speed of the last reading, else at the programmed one. */
function limitAt({ declaration, live, machine }: SpindleState, quantity: LimitQuantity): number | undefined {
  const speed = live.lastReadingAt === undefined ? machine?.programmedSpeedRpm : live.speedRpm;
  if (speed === undefined) return undefined;
  return limitInForce(declaration?.limits ?? [], quantity, speed)?.limitMmS;
}

export function loadRecord({
  ordinal,
  assemblyId,
  buildId,
  at,
  until,
  position,
}: LoadRecordState): SpindleView['loads'][number] {
  return { ordinal, assemblyId, at, position, ...defined({ buildId, until }) };
}

export function limitViews(declaration: SpindleState['declaration']): SpindleView['limits'] {
  return (declaration?.limits ?? []).map(({ sourceDate, ...limit }, place) => ({
    ...limit,
    ...defined({ sourceDate, enteredBy: declaration?.limitsBy[place] }),
  }));
}

export function spindleView(floor: Floor, spindle: SpindleState): SpindleView {
  const { declaration, live, loads, spindleId } = spindle;
  const bins = [...live.bins.values()].toSorted((a, b) => a.bin - b.bin);
  return {
    row: spindleRow(floor, spindle),
    limits: limitViews(declaration),
    points: bins.flatMap((bin) => bin.points),
    lines: bins.flatMap((bin) => bin.line ?? []),
    loads: loads.map(loadRecord).toReversed(),
    holds: holdsAbout(floor, spindleId),
    severity: severityView(spindle),
    ...defined({
      declared: declaration === undefined ? undefined : declaredView(spindleId, declaration),
      interface: declaration?.interface,
      maxSpeedRpm: declaration?.maxSpeedRpm,
      ahead: aheadViews(spindle),
      windows: windowsView(floor, spindleId),
      work: plannedWorkView(floor, spindleId),
      workBefore: workBeforeView(floor, spindleId),
      overrideKept: overrideKeptView(floor, spindleId),
    }),
  };
}

/** As it was declared, so that a part of it can be declared anew without the rest. */
function declaredView(spindleId: string, declaration: SpindleDeclaration): SpindleView['declared'] {
  const { machine, cell, interface: taper, maxSpeedRpm, limits, zones, measuring, by, at } = declaration;
  return {
    spindleId,
    machine,
    cell,
    limits: [...limits],
    by,
    at,
    ...defined({ interface: taper, maxSpeedRpm, zones, ...measuring }),
  };
}

const HOLDS_ON_A_PAGE = 20;

/** Of the spindle itself, and of pairings in it; newest first, open ones on top. */
function holdsAbout(floor: Floor, spindleId: string): HoldView[] {
  const mine = [...floor.holds.values()].filter(
    ({ subject, evidence }) =>
      (subject.kind === 'spindle' && subject.id === spindleId) || evidence.spindleId === spindleId,
  );
  const views = mine.toReversed().map((hold) => holdView(floor, hold));
  return [...views.filter((view) => view.open), ...views.filter((view) => !view.open)].slice(0, HOLDS_ON_A_PAGE);
}
