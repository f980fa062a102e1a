// When what a spindle shows is put on hold because nothing that is known explains it; weighed again with what comes since.
import { CAUSE_WORDS, type CauseFinding, type CauseShare } from '../../../shared/causes.ts';
import type { Entry } from '../../../shared/entries.ts';
import type { Evidence, Hold, ReleaseCondition } from '../../../shared/holds.ts';
import type { Subject } from '../../../shared/ids.ts';
import { say } from '../../../shared/language/index.ts';
import type { Floor } from '../floor.ts';
import { actorName, type Outcomes } from '../raising.ts';
import { UNTUNED } from '../settings.ts';
import { isOverLimit } from '../vibration-rule.ts';
import { clausesOf } from './clauses.ts';
import { concernedHolds, isWeighed, UNEXPLAINED } from './concerned.ts';
import { episodeOf, weighEpisode } from './episodes.ts';
import { expectationOf, type Expectation } from './expected.ts';
import { findingOf } from './finding.ts';
import { HOLD_LEAST_MMS, LOAD_SPEAKS_TIMES, OBSERVED_MOVED_LN, RATES, SHARE_MOVED } from './limits.ts';
import { lookAt, type Look } from './look.ts';
import { hasSaidEnough } from './marks.ts';
import type { LoadMark } from './relating-state.ts';
import { sumOf } from './running-odds.ts';
import { waysOf, weighed, type Weighing } from './weighing.ts';

/** Readings of the last load that are kept as evidence: where it began and where it is. */
const LOADS_OF_EVIDENCE = 4;

/** Looks at what was seen last in a spindle: a new hold, or those that are open weighed again. */
export function unexplainedRule(floor: Floor, outcomes: Outcomes, spindleId: string): void {
  const last = floor.relating.get(spindleId)?.marks.at(-1);
  if (last === undefined) return;
  const { standing, episodes } = concernedHolds(outcomes.layer, spindleId, last);
  const mayRaise = standing.length === 0 && !last.held;
  const look =
    mayRaise || episodes.length > 0
      ? lookAt(floor, spindleId, episodes.length > 0 ? 'whole' : 'whether-to-hold')
      : undefined;
  if (look === undefined) return;
  for (const hold of episodes) weighAgain(floor, outcomes, look, hold);
  if (!mayRaise) return;
  const { unexplainedLogOdds } = floor.spindles.get(spindleId)?.tuned ?? UNTUNED;
  if (look.logOdds < unexplainedLogOdds) return;
  const weighing = weighed(waysOf(look), look.track.build);
  // What a bench that is on hold has measured is accounted for, whatever runs it.
  const subject = subjectOf(weighing.named, spindleId);
  if (subject.kind === 'bench' && outcomes.layer.openHolds(subject).some(isWeighed)) return;
  const expected = expectationOf(floor, look.relating, last);
  if (isWorthAHold(weighing, last, expected) && speaksItself(floor, look, weighing))
    raise(floor, outcomes, look, { weighing, expected });
}

/**
 * What is beside the 1× may grow without it, and a sensor may tell less. Else the 1× is large enough to matter and above what was
 * expected of this very load, whatever those before it showed; and a scatter is told from a load that stands out.
 */
function isWorthAHold({ shares }: Weighing, { square }: LoadMark, expected: Expectation): boolean {
  const cause = shares[0]?.cause;
  if (cause === 'bearing' || cause === 'sensor') return true;
  const amplitudeMmS = Math.sqrt(square);
  if (amplitudeMmS < HOLD_LEAST_MMS) return false;
  return amplitudeMmS > (cause === 'drawbar' ? expected.highMmS : expected.expectedMmS);
}

/** What a build showed in other spindles raises nothing with a load that is as it should be. */
function speaksItself(floor: Floor, { last, track }: Look, { shares }: Weighing): boolean {
  if (shares[0]?.cause !== 'assembly') return true;
  const before = floor.buildOdds.get(last.assemblyId);
  const known = before?.pair === last.pair ? sumOf(before.odds) : 0;
  return sumOf(track.build.odds) >= LOAD_SPEAKS_TIMES * (known + RATES.assembly);
}

/** What is on hold for a cause; the spindle while it cannot be told. */
function subjectOf(named: CauseShare | undefined, spindleId: string): Subject {
  switch (named?.cause) {
    case 'assembly':
      return { kind: 'assembly', id: named.of };
    case 'bench':
      return { kind: 'bench', id: named.of };
    case 'spindle':
    case 'clamping':
    case 'drawbar':
    case 'bearing':
    case 'sensor':
    case 'resonance':
    case undefined:
      return { kind: 'spindle', id: spindleId };
  }
}

function conditionsOf(subject: Subject, spindleId: string, speedRpm: number): readonly ReleaseCondition[] {
  switch (subject.kind) {
    case 'assembly':
      return [{ kind: 'passing-measurement', assemblyId: subject.id, speedRpm }];
    case 'bench':
      return [{ kind: 'bench-check-passed', benchId: subject.id }];
    case 'spindle':
    case 'plant':
      return [{ kind: 'verification-run', spindleId }];
  }
}

interface Found {
  readonly weighing: Weighing;
  readonly expected: Expectation;
}

function evidenceOf(
  floor: Floor,
  { spindleId, relating, last }: Look,
  { weighing, expected }: Found,
  entry: Entry,
): Evidence {
  const { marks } = relating;
  const loads = floor.spindles.get(spindleId)?.loads ?? [];
  const loaded = loads.filter((load) => marks.some((mark) => mark.ordinal === load.ordinal));
  const seen = [
    ...loaded.slice(-LOADS_OF_EVIDENCE).map(({ position }) => position),
    last.measured,
    last.position,
    last.lastPosition,
    entry.position,
  ];
  return {
    positions: [...new Set(seen.filter((position) => position > 0))].toSorted((a, b) => a - b),
    clauses: clausesOf(weighing, relating, last, expected),
    spindleId,
    speedRpm: last.speedRpm,
    assemblyId: last.assemblyId,
    ...(last.buildId === undefined ? {} : { buildId: last.buildId }),
  };
}

function raise(floor: Floor, outcomes: Outcomes, look: Look, { weighing, expected }: Found): void {
  const subject = subjectOf(weighing.named, look.spindleId);
  const { entry } = outcomes;
  const finding = findingOf(weighing, { spindleId: look.spindleId, relating: look.relating, expected }, entry);
  put(outcomes, subject, evidenceOf(floor, look, { weighing, expected }, entry), finding);
}

/**
 * The hold on a subject with how its cause was weighed; the one that is open already, or a new one. A spindle that is on hold for a
 * limit is so for the same vibration: that hold gets the causes.
 */
function put(outcomes: Outcomes, subject: Subject, evidence: Evidence, finding: CauseFinding): Hold | undefined {
  const { spindleId = '', speedRpm = 0 } = evidence;
  const conditions = conditionsOf(subject, spindleId, speedRpm);
  const overLimit = outcomes.layer.openHolds(subject).find((one) => isOverLimit(one.reason));
  if (overLimit === undefined)
    outcomes.raise({ subject, reason: UNEXPLAINED, evidence, conditions }, { repeats: true });
  const hold = overLimit ?? outcomes.layer.openHolds(subject).find((one) => one.reason === UNEXPLAINED);
  if (hold !== undefined) record(outcomes, hold, finding);
  return hold;
}

function record(outcomes: Outcomes, { holdId }: Hold, finding: CauseFinding): void {
  outcomes.add({ cause: outcomes.entry.position, kind: 'cause-weighed', holdId, finding });
}

function weighAgain(floor: Floor, outcomes: Outcomes, look: Look, hold: Hold): void {
  const found = episodeOf(floor, hold);
  if (!saysSomething(floor, outcomes.entry, look, found)) return;
  const weighing = weighEpisode(floor, hold, look);
  if (found === undefined || weighing === undefined) return;
  const before = hold.findings?.at(-1);
  const { relating, spindleId } = found;
  const last = relating.marks.at(-1);
  if (before !== undefined && !hasChanged(before, weighing, Math.sqrt(last?.square ?? 0))) return;
  const expected = last === undefined ? undefined : expectationOf(floor, relating, last);
  const finding = findingOf(weighing, { spindleId, relating, expected }, outcomes.entry);
  record(outcomes, hold, finding);
  if (weighing.named === undefined) return;
  const clauses =
    last === undefined || expected === undefined ? undefined : clausesOf(weighing, relating, last, expected);
  move(outcomes, hold, { named: weighing.named, finding, clauses });
}

/** The load that raised it, and a later one that stands out as well, at once; that one does not only once it has run, or ends. */
function saysSomething(floor: Floor, entry: Entry, look: Look, found: ReturnType<typeof episodeOf>): boolean {
  const { relating, last } = look;
  const raisedBy = found?.spindleId === look.spindleId ? found.episode.ordinal : undefined;
  if (entry.kind === 'load' || hasSaidEnough(relating, last, raisedBy)) return true;
  return Math.sqrt(last.square) > expectationOf(floor, relating, last).highMmS;
}

interface Move {
  readonly named: CauseShare;
  readonly finding: CauseFinding;
  readonly clauses: Evidence['clauses'] | undefined;
}

/**
 * Another cause is named: what it is about is on hold from now on, and what was is not any more, unless it is over a limit: that is
 * somebody's to verify, whatever the cause.
 */
function move(outcomes: Outcomes, hold: Hold, { named, finding, clauses }: Move): void {
  const { spindleId = '' } = hold.evidence;
  const subject = subjectOf(named, spindleId);
  if (subject.kind === hold.subject.kind && subject.id === hold.subject.id) return;
  const stays = hold.reason !== UNEXPLAINED;
  if (stays && outcomes.layer.openHolds(subject).some(({ reason }) => reason === UNEXPLAINED)) return;
  const { positions } = hold.evidence;
  const evidence = {
    ...hold.evidence,
    positions: [...new Set([...positions, outcomes.entry.position])],
    // Beside a limit it is not the limit that this one is about.
    ...(stays && clauses !== undefined ? { clauses } : {}),
  };
  const next = put(outcomes, subject, evidence, finding);
  if (next === undefined || stays) return;
  const note = say`it is ${CAUSE_WORDS[named.cause]} by what came since: hold ${next.holdId} stands for it`;
  outcomes.step(hold, { state: 'released', by: actorName(outcomes.entry), note, movedTo: next.holdId });
}

function hasChanged(before: CauseFinding, { shares, named }: Weighing, observedMmS: number): boolean {
  if (before.named !== named?.cause) return true;
  if (Math.abs(Math.log(observedMmS / before.observedMmS)) >= OBSERVED_MOVED_LN) return true;
  return shares.some(({ cause, of, probability }) => {
    const was = before.shares.find((one) => one.cause === cause && one.of === of)?.probability ?? 0;
    return Math.abs(probability - was) >= SHARE_MOVED;
  });
}
