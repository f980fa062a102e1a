// A hold as people see it: the sentence, the ledger, its conditions with those that are met, who has it, who was told.
import { awaitedSince, isOpen, type Hold, type ReleaseCondition } from '../../../shared/holds.ts';
import { say } from '../../../shared/language/index.ts';
import type { HoldView } from '../../../shared/views.ts';
import {
  baseLayer,
  conditionMet,
  noteOf,
  priorityOf,
  readWithinOnly,
  spindleAbout,
  type Floor,
} from '../../rules/index.ts';
import { defined } from './defined.ts';
import { cautionsOf, checkFirst, conditionSentence, conditionWords } from './hold-advice.ts';
import { holdSentence } from './hold-sentence.ts';
import { plannedWorkView } from './planned-work-view.ts';
import { runParts } from './run-parts.ts';
import { doubtsOfSignal } from './windows-view.ts';

export function holdView(floor: Floor, hold: Hold): HoldView {
  const { holdId, subject, reason, state, raisedAt, evidence, conditions, steps, dependents, findings } = hold;
  const { rules, escalations } = hold;
  const last = steps.at(-1);
  const taken = steps.findLast((step) => step.state === 'taken');
  const ended = !isOpen(hold);
  return {
    holdId,
    subject,
    reason,
    sentence: holdSentence(hold),
    state,
    open: !ended,
    raisedAt,
    changedAt: last?.at ?? raisedAt,
    // A release that was taken back leaves it with nobody.
    ...defined({ takenBy: state === 'raised' ? undefined : taken?.by }),
    evidence: {
      positions: [...evidence.positions],
      clauses: evidence.clauses.map((clause) => ({ ...clause })),
      ...defined({
        assemblyId: evidence.assemblyId,
        buildId: evidence.buildId,
        spindleId: evidence.spindleId,
        speedRpm: evidence.speedRpm,
        benchId: evidence.benchId,
        device: evidence.device,
        touched: touchedOf(evidence),
        lateMs: evidence.lateMs,
      }),
    },
    conditions: conditions.map((condition) => conditionView(floor, hold, condition)),
    steps: steps.map((step) => ({ ...step })),
    dependents: [...dependents],
    ...defined({ findings: findings === undefined ? undefined : [...findings] }),
    checkFirst: [...(ended ? [] : signalDoubts(floor, hold)), ...checkFirst(reason, findings?.at(-1))],
    cautions: [...cautionsOf(reason)],
    notices: (floor.notices.get(holdId) ?? []).map(({ detail, ...notice }) => ({ ...notice, ...defined({ detail }) })),
    ...defined({ rules, escalations: escalations === undefined ? undefined : [...escalations] }),
    ...(ended ? {} : openView(floor, hold)),
  };
}

/** What is said of an open hold only: it changes with the plant, not with the hold. */
function openView(floor: Floor, hold: Hold): Partial<HoldView> {
  const { priority, why } = priorityOf(baseLayer(floor), hold, floor.at);
  const asked = awaitedSince(hold, 'second-name');
  const spindleId = spindleAbout(baseLayer(floor), hold);
  const before = inPlaceOf(floor, hold);
  return {
    priority: { word: priority, why },
    ...defined({
      inPlaceOf: before.length === 0 ? undefined : before,
      secondName:
        asked === undefined ? undefined : { askedBy: asked.by, at: asked.at, ...defined({ note: asked.note }) },
      work: spindleId === undefined ? undefined : plannedWorkView(floor, spindleId),
    }),
  };
}

/** How many holds in turn are followed: more are no chain of one vibration. */
const IN_TURN_MAX = 20;

function inPlaceOf(floor: Floor, { holdId }: Hold, left = IN_TURN_MAX): NonNullable<HoldView['inPlaceOf']> {
  if (left === 0) return [];
  return [...floor.holds.values()]
    .filter(({ steps }) => steps.at(-1)?.movedTo === holdId)
    .map((hold) => {
      const earlier = inPlaceOf(floor, hold, left - 1);
      const takenBy = hold.steps.findLast(({ state }) => state === 'taken')?.by ?? earlier.at(-1)?.takenBy;
      return {
        holdId: hold.holdId,
        raisedAt: Math.min(hold.raisedAt, ...earlier.map(({ raisedAt }) => raisedAt)),
        ...defined({ takenBy }),
      };
    });
}

function touchedOf({ touched }: Hold['evidence']): HoldView['evidence']['touched'] {
  return touched === undefined ? undefined : { assemblies: [...touched.assemblies], spindles: [...touched.spindles] };
}

/** What speaks against the signal now, of a hold that stands on it: a real rise and a wrong scale look the same. */
function signalDoubts(floor: Floor, { subject, reason }: Hold): readonly string[] {
  const isOfVibration = reason === 'overall-over-limit' || reason === 'synchronous-over-limit';
  return isOfVibration && subject.kind === 'spindle' ? doubtsOfSignal(floor, subject.id) : [];
}

/** Of an ended hold the record says which condition ended it: what came about later is another story. */
function conditionView(floor: Floor, hold: Hold, condition: ReleaseCondition): HoldView['conditions'][number] {
  const { kind } = condition;
  const words = conditionWords(condition);
  if (!isOpen(hold)) return { kind, words, met: endedBy(hold, condition), byHand: false };
  const known = baseLayer(floor);
  if (readWithinOnly(known, hold, condition))
    return {
      kind,
      words: `${conditionSentence(condition) ?? `${words}.`} ${READ_WITHIN_ONLY}`,
      met: false,
      byHand: true,
    };
  const met = conditionMet(known, hold, condition);
  if (condition.kind === 'verification-run') {
    const asked = awaitedSince(hold, 'verification-run') !== undefined;
    return { kind, words, met, byHand: !asked, parts: runParts(floor, hold, condition.spindleId) };
  }
  return { kind, words, met, byHand: met || kind === 'maintenance-release' };
}

const READ_WITHIN_ONLY = say`The reading since is within, but reclamping through this interface uses up more than is permitted, so that no measurement can show it: a named person may release it.`;

function endedBy({ state, steps }: Hold, condition: ReleaseCondition): boolean {
  const last = steps.at(-1);
  if (state !== 'released' || last === undefined || last.deviation === true) return false;
  return condition.kind === 'maintenance-release' || last.note === noteOf(condition);
}

/** Open ones first, the longest unanswered on top; then the ended, newest first. */
export function holdsInOrder(floor: Floor, state: 'open' | 'ended' | 'all', limit: number): HoldView[] {
  const all = [...floor.holds.values()];
  const open = all.filter(isOpen);
  const ended = all.filter((hold) => !isOpen(hold)).toReversed();
  const wanted = state === 'open' ? open : state === 'ended' ? ended : [...open, ...ended];
  return wanted.slice(0, limit).map((hold) => holdView(floor, hold));
}
