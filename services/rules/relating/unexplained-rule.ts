// When what a spindle shows is put on hold because nothing that is known explains it; weighed again with what comes since.
import { CAUSE_WORDS, type CauseFinding, type CauseShare } from '../../../shared/causes.ts';
import type { Entry } from '../../../shared/entries.ts';
import type { Evidence, Hold, ReleaseCondition } from '../../../shared/holds.ts';
import type { Subject } from '../../../shared/ids.ts';
import type { Floor } from '../floor.ts';
import { actorName, type Outcomes } from '../raising.ts';
import { UNTUNED } from '../settings.ts';
import { isOverLimit } from '../vibration-rule.ts';
import { concernedHolds, sceneIn, scenesElsewhere, UNEXPLAINED } from './concerned.ts';
import { expectationOf, findingOf, type Expectation } from './finding.ts';
import { EXPECTED_LOADS_MIN, HOLD_LEAST_MMS, SHARE_MOVED } from './limits.ts';
import type { LoadMark } from './relating-state.ts';
import { sceneOf, type Scene } from './scene.ts';
import { isWorthWeighing } from './screen.ts';
import { weigh, type Episode, type Weighing } from './weighing.ts';

/** Readings of the last load that are kept as evidence: where it began and where it is. */
const LOADS_OF_EVIDENCE = 4;

/** Looks at what was seen last in a spindle: a new hold, or one that is open weighed again. */
export function unexplainedRule(floor: Floor, outcomes: Outcomes, spindleId: string): void {
  const spindle = floor.spindles.get(spindleId);
  const relating = floor.relating.get(spindleId);
  const last = relating?.marks.at(-1);
  if (last === undefined) return;
  const open = concernedHolds(outcomes.layer, spindleId, last);
  for (const hold of open) weighAgain(floor, outcomes, hold);
  if (open.length > 0 || last.held) return;
  if (spindle === undefined || relating === undefined || !isWorthWeighing(spindle, relating, last)) return;
  const scene = sceneIn(floor, spindleId, (mark) => mark.held);
  if (scene === undefined || loadsIn(scene) < EXPECTED_LOADS_MIN) return;
  const weighing = weigh(scene, scenesElsewhere(floor, scene));
  const { unexplainedLogOdds } = spindle.tuned ?? UNTUNED;
  if (weighing.logOdds < unexplainedLogOdds) return;
  const expected = expectedIn(scene);
  if (isWorthAHold(weighing, last, expected)) raise(outcomes, scene, weighing, expected);
}

/** What is beside the 1× may grow without it. Else the 1× is large enough to matter, and a scatter is told from a load that stands out. */
function isWorthAHold({ shares }: Weighing, { square }: LoadMark, expected: Expectation | undefined): boolean {
  const cause = shares[0]?.cause;
  if (cause === 'bearing' || cause === 'sensor') return true;
  const amplitudeMmS = Math.sqrt(square);
  if (amplitudeMmS < HOLD_LEAST_MMS) return false;
  return cause !== 'drawbar' || expected === undefined || amplitudeMmS > expected.highMmS;
}

const loadsIn = ({ marks }: Scene): number => new Set(marks.map(({ ordinal }) => ordinal)).size;

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

/** What the last mark was expected to show by all others of the scene. */
function expectedIn({ spindle, relating, marks }: Scene): Expectation | undefined {
  const last = marks.at(-1);
  if (last === undefined) return undefined;
  const others = sceneOf(spindle, relating, (mark) => mark.ordinal === last.ordinal || mark.held);
  return others === undefined ? undefined : expectationOf(others, last);
}

function evidenceOf(scene: Scene, expected: Expectation | undefined, entry: Entry): Evidence {
  const { spindle, marks } = scene;
  const last = marks.at(-1);
  const loaded = spindle.loads.filter((load) => marks.some((mark) => mark.ordinal === load.ordinal));
  const seen = [
    ...loaded.slice(-LOADS_OF_EVIDENCE).map(({ position }) => position),
    ...(last === undefined ? [] : [last.measured, last.position, last.lastPosition]),
    entry.position,
  ];
  return {
    positions: [...new Set(seen.filter((position) => position > 0))].toSorted((a, b) => a - b),
    clauses:
      expected === undefined
        ? []
        : [
            {
              what: '1× vibration velocity of this load, RMS',
              measured: expected.observedMmS,
              limit: expected.highMmS,
              unit: 'mm/s',
              source:
                `expected ${expected.expectedMmS.toFixed(2)} mm/s, in 95 of 100 loads ` +
                `${expected.lowMmS.toFixed(2)} to ${expected.highMmS.toFixed(2)}, by ${marks.length - 1} others of this spindle`,
              times: last?.readings ?? 1,
            },
          ],
    spindleId: spindle.spindleId,
    ...(last === undefined ? {} : { speedRpm: last.speedRpm, assemblyId: last.assemblyId }),
    ...(last?.buildId === undefined ? {} : { buildId: last.buildId }),
  };
}

function raise(outcomes: Outcomes, scene: Scene, weighing: Weighing, expected: Expectation | undefined): void {
  const { spindleId } = scene.spindle;
  const subject = subjectOf(weighing.named, spindleId);
  const evidence = evidenceOf(scene, expected, outcomes.entry);
  put(outcomes, subject, evidence, findingOf(weighing, scene, expected, outcomes.entry));
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
  if (hold !== undefined) weighed(outcomes, hold, finding);
  return hold;
}

function weighed(outcomes: Outcomes, { holdId }: Hold, finding: CauseFinding): void {
  outcomes.add({ cause: outcomes.entry.position, kind: 'cause-weighed', holdId, finding });
}

/** When the load began during which its cause was first weighed; undefined once its mark is no longer kept. */
function episodeOf(marks: readonly LoadMark[], { steps, evidence, findings, reason }: Hold): Episode | undefined {
  const raised = findings?.[0]?.position ?? steps[0]?.cause ?? 0;
  const raising = marks.findLast((mark) => mark.position <= raised);
  const first = marks.find((mark) => mark.ordinal === raising?.ordinal);
  return raising?.held === true && first !== undefined
    ? { from: first.at, assemblyId: reason === UNEXPLAINED ? evidence.assemblyId : first.assemblyId }
    : undefined;
}

function weighAgain(floor: Floor, outcomes: Outcomes, hold: Hold): void {
  const { spindleId } = hold.evidence;
  const scene = spindleId === undefined ? undefined : sceneIn(floor, spindleId);
  if (scene === undefined || spindleId === undefined) return;
  const episode = episodeOf(scene.marks, hold);
  if (episode === undefined) return;
  const weighing = weigh(scene, scenesElsewhere(floor, scene, episode.assemblyId), episode);
  const before = hold.findings?.at(-1);
  if (before !== undefined && !hasChanged(before, weighing)) return;
  const finding = findingOf(weighing, scene, expectedIn(scene), outcomes.entry);
  weighed(outcomes, hold, finding);
  if (weighing.named !== undefined) move(outcomes, hold, weighing.named, finding);
}

/**
 * Another cause is named: what it is about is on hold from now on, and what was is not any more, unless it is over a limit: that is
 * somebody's to verify, whatever the cause.
 */
function move(outcomes: Outcomes, hold: Hold, named: CauseShare, finding: CauseFinding): void {
  const { spindleId = '' } = hold.evidence;
  const subject = subjectOf(named, spindleId);
  if (subject.kind === hold.subject.kind && subject.id === hold.subject.id) return;
  const stays = hold.reason !== UNEXPLAINED;
  if (stays && outcomes.layer.openHolds(subject).some(({ reason }) => reason === UNEXPLAINED)) return;
  const { positions } = hold.evidence;
  const evidence = { ...hold.evidence, positions: [...new Set([...positions, outcomes.entry.position])] };
  const next = put(outcomes, subject, evidence, finding);
  if (next === undefined || stays) return;
  const note = `it is ${CAUSE_WORDS[named.cause]} by what came since: hold ${next.holdId} stands for it`;
  outcomes.step(hold, { state: 'released', by: actorName(outcomes.entry), note, movedTo: next.holdId });
}

function hasChanged(before: CauseFinding, { shares, named }: Weighing): boolean {
  if (before.named !== named?.cause) return true;
  return shares.some(({ cause, of, probability }) => {
    const was = before.shares.find((one) => one.cause === cause && one.of === of)?.probability ?? 0;
    return Math.abs(probability - was) >= SHARE_MOVED;
  });
}
