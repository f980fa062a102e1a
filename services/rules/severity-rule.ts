// Rule (g): the zone or level of the overall vibration at each speed that a spindle runs, on record whenever it moves for good.
import type { EntryOf } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { NotComparableReason, Outcome, ReadingFeatures } from '../../shared/outcomes.ts';
import { zoneEndMmS, type SeverityAgainst, type SeverityRung } from '../../shared/severity.ts';
import { rfc3339Of, type Instant } from '../../shared/time.ts';
import { ZONES } from '../../shared/zones.ts';
import { authorOf } from './authors.ts';
import type { RungState, SeverityState, SpeedBin, SpindleLive, SpindleState } from './floor.ts';
import { SEVERITY_CHANGES_MAX, USUAL_READINGS_MIN, USUAL_TURNING_MS } from './limits.ts';
import {
  againstOf,
  changeHeading,
  fallenFrom,
  head,
  heldHeading,
  isLastingMove,
  isMove,
  levelAfter,
  newSeverity,
  resetRung,
  risenFrom,
  standardAt,
} from './severity.ts';

type Summary = EntryOf<'summary'>;
type Changed = Extract<Outcome, { kind: 'severity-changed' }>;

/** Severity is of a warm spindle at a steady speed with a sound sensor, not cutting. */
function isOfSeverity(reason: NotComparableReason | undefined): boolean {
  return learns(reason) || reason === 'on-hold';
}

/** What is usual is learned whether or not the load and its 1× part are known; not under a hold. */
function learns(reason: NotComparableReason | undefined): boolean {
  return reason === undefined || reason === 'nothing-loaded' || reason === 'no-synchronous';
}

/** The moves that a reading completes; as a rule none, and nothing is allocated for them. */
export function severityRule(
  spindle: SpindleState,
  bin: SpeedBin | undefined,
  entry: Summary,
  features: ReadingFeatures,
  at: Instant,
): readonly Changed[] | undefined {
  const severity = bin?.severity;
  if (bin === undefined || severity === undefined || !isOfSeverity(features.notComparable)) return undefined;
  // Nothing heads anywhere: one reading alone completes no move.
  if (severity.held.count === 0 && severity.change.count === 0) return undefined;
  const { overallMmS } = entry.data;
  const levelMmS = levelAfter(severity, overallMmS);
  const standard = standardAt(spindle, bin);
  const against = againstOf(standard);
  const held = heldHeading(severity, standard, levelMmS, overallMmS);
  const change = changeHeading(severity, standard, levelMmS, overallMmS);
  let moves: Changed[] | undefined;
  if (against !== undefined && against === severity.against && held !== undefined && isMove(severity.held, held, at))
    (moves ??= []).push(moved({ spindle, bin, entry, at, levelMmS, against, to: held, before: severity.held }));
  if (change !== undefined && isLastingMove(severity.change, change, spindle, at))
    (moves ??= []).push(
      moved({ spindle, bin, entry, at, levelMmS, against: 'usual', to: change, before: severity.change }),
    );
  return moves;
}

interface Move {
  readonly spindle: SpindleState;
  readonly bin: SpeedBin;
  readonly entry: Summary;
  readonly at: Instant;
  readonly levelMmS: number;
  readonly against: SeverityAgainst;
  readonly to: SeverityRung;
  readonly before: RungState;
}

function moved({ spindle, bin, entry, at, levelMmS, against, to, before }: Move): Changed {
  const generic = against === 'zones' && spindle.declaration?.zones?.generic === true;
  return {
    cause: entry.position,
    kind: 'severity-changed',
    spindleId: spindle.spindleId,
    change: {
      at,
      speedBin: bin.bin,
      speedRpm: Math.round(bin.centreRpm),
      against,
      ...(before.rung === undefined ? {} : { from: before.rung }),
      to,
      levelMmS: Math.fround(levelMmS),
      boundaryMmS: boundaryOf(spindle, bin, before.rung, to),
      source: sourceOf(spindle, bin, against),
      ...(generic ? { generic } : {}),
    },
  };
}

/** The boundary that was crossed last, or where nothing was before the next above. mm/s RMS. */
function boundaryOf(spindle: SpindleState, bin: SpeedBin, from: SeverityRung | undefined, to: SeverityRung): number {
  const usualMmS = bin.severity?.usualMmS ?? 0;
  const standard = standardAt(spindle, bin);
  switch (to) {
    case 'within':
    case 'over':
      return standard.limit?.limitMmS ?? 0;
    case 'risen':
      return risenFrom(standard, usualMmS);
    case 'fallen':
      return fallenFrom(standard, usualMmS);
    case 'usual':
      return from === 'fallen' ? fallenFrom(standard, usualMmS) : risenFrom(standard, usualMmS);
    case 'A':
    case 'B':
    case 'C':
    case 'D': {
      const { zones } = standard;
      const place = ZONES.indexOf(to);
      const rose = from !== undefined && place > ZONES.findIndex((zone) => zone === from);
      return zones === undefined ? 0 : zoneEndMmS(zones, rose ? (ZONES[place - 1] ?? to) : to);
    }
  }
}

/** Who says what the level is held against. */
export function sourceOf(spindle: SpindleState, bin: SpeedBin, against: SeverityAgainst): string {
  const { declaration } = spindle;
  switch (against) {
    case 'limit': {
      const { limit } = standardAt(spindle, bin);
      return said(limit, authorOf(declaration, limit));
    }
    case 'zones':
      return said(declaration?.zones, declaration?.zonesBy);
    case 'usual': {
      const since = bin.severity?.usualSetAt;
      const readings = bin.severity?.usualReadings ?? 0;
      return since === undefined
        ? say`what was usual: mean of ${readings} readings`
        : say`what was usual: mean of ${readings} readings, ended ${rfc3339Of(since).slice(0, 10)}`;
    }
  }
}

function said(
  of: { readonly source: string; readonly sourceDate?: string | undefined } | undefined,
  by = say`nobody`,
): string {
  if (of === undefined) return say`not declared any more`;
  const dated = of.sourceDate === undefined ? of.source : `${of.source}, ${of.sourceDate.slice(0, 10)}`;
  return say`${dated}; entered by ${by}`;
}

/** Takes a reading into the level of its bin, into what is usual, and into what it heads for. */
export function foldSeverity(
  spindle: SpindleState,
  bin: SpeedBin,
  reason: NotComparableReason | undefined,
  overallMmS: number,
  at: Instant,
): void {
  if (!isOfSeverity(reason)) return;
  const { live } = spindle;
  bin.severity ??= newSeverity(live.turnedMs);
  const { severity } = bin;
  severity.levelMmS = levelAfter(severity, overallMmS);
  severity.readings += 1;
  live.severityBin = bin.bin;
  if (learns(reason)) learnUsual(severity, live, overallMmS, at);
  const standard = standardAt(spindle, bin);
  const against = againstOf(standard);
  if (severity.against !== against) resetRung(severity.held);
  severity.against = against;
  head(severity.held, heldHeading(severity, standard, severity.levelMmS, overallMmS), spindle, at);
  head(severity.change, changeHeading(severity, standard, severity.levelMmS, overallMmS), spindle, at);
}

/** Once it is set it stays: what follows the readings swallows what grows slowly. */
function learnUsual(severity: SeverityState, { turnedMs }: SpindleLive, overallMmS: number, at: Instant): void {
  if (severity.usualSetAt !== undefined) return;
  severity.usualReadings += 1;
  severity.usualMmS += (overallMmS - severity.usualMmS) / severity.usualReadings;
  const turning = turnedMs - severity.usualFromTurnedMs;
  if (severity.usualReadings >= USUAL_READINGS_MIN && turning >= USUAL_TURNING_MS) severity.usualSetAt = at;
}

/** Where a speed is judged for the first time and found so, nothing moved that a person has to remember. */
const IS_ORDINARY: Readonly<Record<SeverityRung, boolean>> = {
  within: true,
  over: false,
  A: true,
  B: true,
  C: false,
  D: false,
  usual: true,
  risen: false,
  fallen: false,
};

/** A recorded move: the rung is what was recorded, whatever these rules would have made of it. */
export function foldMove(live: SpindleLive, { cause, change }: Changed): void {
  if (change.from !== undefined || !IS_ORDINARY[change.to]) {
    live.severityChanges.push({ ...change, position: cause });
    if (live.severityChanges.length > SEVERITY_CHANGES_MAX) live.severityChanges.shift();
  }
  const severity = live.bins.get(change.speedBin)?.severity;
  if (severity === undefined) return;
  const state = change.against === 'usual' ? severity.change : severity.held;
  state.rung = change.to;
  state.since = change.at;
  state.heading = undefined;
  state.count = 0;
}

/** Other limits or another table: each level is judged anew against them. */
export function judgeAnew(live: SpindleLive): void {
  for (const { severity } of live.bins.values()) {
    if (severity === undefined) continue;
    resetRung(severity.held);
    severity.against = undefined;
  }
}

/** After another sensor, or work on the spindle, what was usual before says nothing. */
export function learnAnew(live: SpindleLive): void {
  for (const bin of live.bins.values()) {
    bin.severity = undefined;
    bin.daily = undefined;
  }
}
