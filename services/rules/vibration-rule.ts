// Rule (e): overall or 1× velocity over the limit in force for this spindle and speed, for long enough to mean it.
import type { VibrationLimit } from '../../shared/acts.ts';
import type { EntryOf } from '../../shared/entries.ts';
import type { Clause, Evidence, HoldReason } from '../../shared/holds.ts';
import type { Subject } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import { limitInForce } from '../../shared/limit-in-force.ts';
import type { Instant } from '../../shared/time.ts';
import { authorOf } from './authors.ts';
import type { LimitWatch, SpindleState } from './floor.ts';
import { EVIDENCE_POSITIONS_MAX } from './limits.ts';
import { isAtRest, persistsWith, quantityOf, type Judged } from './persistence.ts';
import { actorName, type Outcomes } from './raising.ts';
import { UNTUNED } from './settings.ts';
import { isBeforeRelease } from './trial-run.ts';

type Summary = EntryOf<'summary'>;

const QUANTITY_WORDS = {
  overall: say`overall vibration velocity, RMS`,
  synchronous: say`1× vibration velocity, RMS`,
} as const;

export const REASON_OF = {
  overall: 'overall-over-limit',
  synchronous: 'synchronous-over-limit',
} as const satisfies Record<VibrationLimit['quantity'], HoldReason>;

/** Whether a hold of this reason is for a limit of vibration. */
export const isOverLimit = (reason: HoldReason): boolean =>
  reason === REASON_OF.overall || reason === REASON_OF.synchronous;

/** Half of the overall's square: from here on the 1× part is what makes the overall value. */
const DOMINANT_SHARE = 0.5;

/**
 * The reading against one of the limits. Undefined where the sensor does not tell the quantity, where there is nothing to count,
 * or where that limit is not in force at its speed; the last is looked up last, for it goes through all limits.
 */
export function judgedBy(
  limit: VibrationLimit,
  watch: LimitWatch,
  limits: readonly VibrationLimit[],
  entry: Summary,
  at: Instant,
): Judged | undefined {
  const value = quantityOf(limit.quantity, entry.data);
  if (value === undefined || isAtRest(watch, value, limit.limitMmS)) return undefined;
  if (limitInForce(limits, limit.quantity, entry.data.speedRpm) !== limit) return undefined;
  return { value, limit: limit.limitMmS, at, position: entry.position };
}

export interface Persisting {
  readonly limit: VibrationLimit;
  readonly watch: LimitWatch;
  readonly judged: Judged;
}

/** The limits whose excess persists with this reading, the 1× ones first; none, and nothing allocated, as a rule. */
export function persisting(spindle: SpindleState, entry: Summary, at: Instant): readonly Persisting[] | undefined {
  const limits = spindle.declaration?.limits;
  if (limits === undefined || isBeforeRelease(spindle.live.trial, at)) return undefined;
  const tuned = spindle.tuned ?? UNTUNED;
  let found: Persisting[] | undefined;
  for (let index = 0; index < limits.length; index += 1) {
    const limit = limits[index];
    const watch = spindle.live.watches[index];
    if (limit === undefined || watch === undefined) continue;
    const judged = judgedBy(limit, watch, limits, entry, at);
    if (judged === undefined || !persistsWith(watch, judged, tuned)) continue;
    (found ??= []).push({ limit, watch, judged });
  }
  return found?.toSorted((a, b) => rank(a) - rank(b));
}

const rank = ({ limit }: Persisting): number => (limit.quantity === 'synchronous' ? 0 : 1);

function clauseOf(spindle: SpindleState, { limit, watch, judged }: Persisting): Clause {
  const { source, sourceDate } = limit;
  const dated = sourceDate === undefined ? source : `${source}, ${sourceDate.slice(0, 10)}`;
  return {
    what: QUANTITY_WORDS[limit.quantity],
    measured: judged.value,
    limit: limit.limitMmS,
    unit: 'mm/s',
    source: say`${dated}; entered by ${authorOf(spindle.declaration, limit) ?? say`nobody`}`,
    times: watch.count + 1,
  };
}

function evidenceOf(spindle: SpindleState, entry: Summary, found: Persisting): Evidence {
  const { loaded, declaration } = spindle;
  const readings = [...found.watch.positions, entry.position].slice(-EVIDENCE_POSITIONS_MAX);
  const about = [declaration?.position, loaded?.position].filter((position) => position !== undefined);
  return {
    positions: [...new Set([...about, ...readings])].toSorted((a, b) => a - b),
    clauses: [clauseOf(spindle, found)],
    spindleId: spindle.spindleId,
    speedRpm: entry.data.speedRpm,
    ...(loaded === undefined ? {} : { assemblyId: loaded.assemblyId }),
    ...(loaded?.buildId === undefined ? {} : { buildId: loaded.buildId }),
  };
}

/** Whether the 1× part makes the overall value. */
export function isDominant({
  overallMmS,
  synchronousMmS = 0,
}: {
  readonly overallMmS: number;
  readonly synchronousMmS?: number | undefined;
}): boolean {
  return synchronousMmS * synchronousMmS >= DOMINANT_SHARE * overallMmS * overallMmS;
}

/**
 * One cause, one hold: where the 1× part makes the overall value, the overall one stands under the hold for the 1×; and what was on
 * hold because nothing explains it is from now on, with its causes as they were weighed, on hold for the limit.
 */
export function vibrationRule(
  outcomes: Outcomes,
  spindle: SpindleState,
  entry: Summary,
  found: readonly Persisting[],
): void {
  const { spindleId } = spindle;
  const subject = { kind: 'spindle', id: spindleId } as const;
  const dominant = isDominant(entry.data);
  for (const one of found) {
    const underSynchronous = outcomes.layer
      .openHolds(subject)
      .find((hold) => hold.reason === 'synchronous-over-limit' && one.limit.quantity === 'overall' && dominant);
    if (underSynchronous !== undefined) {
      outcomes.repeat(underSynchronous);
      continue;
    }
    outcomes.raise(
      {
        subject,
        reason: REASON_OF[one.limit.quantity],
        evidence: evidenceOf(spindle, entry, one),
        conditions: [{ kind: 'verification-run', spindleId }],
      },
      { repeats: true },
    );
  }
  takeOver(outcomes, subject);
}

/** The limit is somebody's word, what is to be expected is not: the hold for it stands, and goes on with the causes. */
function takeOver(outcomes: Outcomes, subject: Subject): void {
  const open = outcomes.layer.openHolds(subject);
  const unexplained = open.find(({ reason }) => reason === 'vibration-unexplained');
  const { holdId } = open.find(({ reason }) => isOverLimit(reason)) ?? {};
  if (unexplained === undefined || holdId === undefined) return;
  const { findings = [] } = unexplained;
  for (const finding of new Set([findings[0], findings.at(-1)]))
    if (finding !== undefined) outcomes.add({ cause: outcomes.entry.position, kind: 'cause-weighed', holdId, finding });
  const note = say`it is over its limit as well: hold ${holdId} stands for it`;
  outcomes.step(unexplained, { state: 'released', by: actorName(outcomes.entry), note, movedTo: holdId });
}
