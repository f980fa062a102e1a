// How soon a hold wants an answer: by what it is about, by how far over its limit it is, and by whether it turns now.
import type { Priority } from '../../shared/answering.ts';
import type { Hold } from '../../shared/holds.ts';
import { say, sayCount } from '../../shared/language/index.ts';
import type { Instant } from '../../shared/time.ts';
import { factorWords } from '../../shared/wording.ts';
import { touchedBy } from './bench-touched.ts';
import type { SpindleState } from './floor.ts';
import { spindleAbout } from './fold-outcome.ts';
import type { Layer } from './layer.ts';
import { AT_ONCE_FROM, TURNS_WITHIN_MS } from './limits.ts';

type Known = Pick<Layer, 'floor' | 'assembly' | 'spindle'>;

export interface PriorityOf {
  readonly priority: Priority;
  readonly why: string;
}

/** Common practice, no source. A priority is advice on the order of work: none of them says that something may go on. */
export function priorityOf(known: Known, hold: Hold, now: Instant): PriorityOf {
  if (hold.reason === 'bench-in-doubt') return priorityOfBench(known, hold);
  const spindleId = spindleAbout(known, hold);
  const spindle = spindleId === undefined ? undefined : known.spindle(spindleId);
  if (spindle === undefined) return { priority: 'when-planned', why: say`it is in no spindle` };
  const { loaded } = spindle;
  const name = spindle.spindleId;
  if (hold.reason === 'speed-above-marked')
    return { priority: 'at-once', why: say`the lowest marked maximum of its parts always governs` };
  if (!turnsNow(spindle, now)) {
    return loaded === undefined
      ? { priority: 'when-planned', why: say`${name} does not turn and nothing is in it` }
      : { priority: 'this-shift', why: say`${loaded.assemblyId} is in ${name}, which does not turn now` };
  }
  if (hold.reason === 'sensor-cannot-judge')
    return { priority: 'this-shift', why: say`${name} sends readings that say nothing of it` };
  const ratio = timesOverLimit(hold);
  if (hold.reason === 'held-assembly-loaded') return { priority: 'at-once', why: say`${name} turns with it now` };
  return ratio !== undefined && ratio >= AT_ONCE_FROM
    ? { priority: 'at-once', why: heldAtWords(name, factorWords(ratio), hold) }
    : { priority: 'this-shift', why: say`${name} turns now` };
}

function priorityOfBench(known: Known, { subject }: Hold): PriorityOf {
  const { spindles } = touchedBy(known, subject.id);
  return spindles.length === 0
    ? { priority: 'when-planned', why: say`nothing that it measured since is in a spindle` }
    : {
        priority: 'this-shift',
        why: sayCount(
          spindles.length,
          'what it measured since is in a spindle',
          'what it measured since is in {0} spindles',
        ),
      };
}

function turnsNow({ live, machine }: SpindleState, now: Instant): boolean {
  if (live.speedRpm >= 1 && live.lastReadingAt !== undefined && now - live.lastReadingAt <= TURNS_WITHIN_MS)
    return true;
  return (machine?.actualSpeedRpm ?? 0) >= 1 && machine !== undefined && now - machine.at <= TURNS_WITHIN_MS;
}

/** What a load is expected to show at most is nobody's limit. */
function heldAtWords(name: string, times: string, { reason }: Pick<Hold, 'reason'>): string {
  return reason === 'vibration-unexplained'
    ? say`${name} turns now; it was held at ${times} what was to be expected at most`
    : say`${name} turns now; it was held at ${times} the limit`;
}

/** The clause that is farthest over; what is counted has no share. */
function timesOverLimit({ evidence }: Pick<Hold, 'evidence'>): number | undefined {
  const ratios = evidence.clauses.flatMap(({ measured, limit, unit }) =>
    unit === '1' || limit <= 0 ? [] : [measured / limit],
  );
  return ratios.length === 0 ? undefined : Math.max(...ratios);
}
