// What a run found beside what is on record: both, only now, only then.
import type { Instant } from '../../shared/time.ts';
import { TRY_OUT_HOLDS_MAX, type TryOutAnswer, type TryOutHold } from '../../shared/try-out.ts';
import type { RecordedHold } from './on-record.ts';
import type { RunAsked, RunDone } from './run.ts';
import type { HoldOfRun } from './spindle-run.ts';

export function answerOf(asked: RunAsked, done: RunDone, tookMs: number): TryOutAnswer {
  const holds = [...done.runs].flatMap(([spindleId, run]) =>
    besideEachOther(
      spindleId,
      done.recorded.holds.filter((one) => one.spindleId === spindleId),
      run.holds,
      asked.to,
    ),
  );
  const counted = (found: (hold: TryOutHold) => boolean): number => holds.filter(found).length;
  return {
    from: asked.from,
    to: asked.to,
    readings: done.readings,
    spindles: [...done.runs.keys()],
    holds: holds.toSorted((a, b) => raisedAt(b) - raisedAt(a)).slice(0, TRY_OUT_HOLDS_MAX),
    counts: {
      both: counted((one) => one.recorded !== undefined && one.tried !== undefined),
      onlyNow: counted((one) => one.tried === undefined),
      onlyThen: counted((one) => one.recorded === undefined),
    },
    fromBefore: asked.before.length,
    declaredMeanwhile: [...done.declaredMeanwhile],
    tookMs,
  };
}

const raisedAt = ({ recorded, tried }: TryOutHold): Instant => recorded?.raisedAt ?? tried?.raisedAt ?? 0;

/** Of one spindle: two of the same reason are one hold where one stood while the other did; each is paired once, the earliest first. */
function besideEachOther(
  spindleId: string,
  recorded: readonly RecordedHold[],
  tried: readonly HoldOfRun[],
  end: Instant,
): readonly TryOutHold[] {
  const left = new Set(tried);
  const both = recorded.map(({ reason, hold: now }): TryOutHold => {
    const found = [...left].find(
      (one) =>
        one.reason === reason && one.hold.raisedAt <= (now.endedAt ?? end) && now.raisedAt <= (one.hold.endedAt ?? end),
    );
    if (found === undefined) return { spindleId, reason, recorded: now };
    left.delete(found);
    return { spindleId, reason, recorded: now, tried: found.hold };
  });
  return [...both, ...[...left].map(({ reason, hold }): TryOutHold => ({ spindleId, reason, tried: hold }))];
}
