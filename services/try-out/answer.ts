// What a run found beside what is on record: both, only now, only then.
import type { Position } from '../../shared/entries.ts';
import { heldMsOf, pairHolds, type HeldStay } from '../../shared/hold-pairing.ts';
import type { Instant } from '../../shared/time.ts';
import { TRY_OUT_HOLDS_MAX, type TryOutAnswer, type TryOutHold, type TryOutReason } from '../../shared/try-out.ts';
import type { RunAsked, RunDone } from './run.ts';

export function answerOf(asked: RunAsked, done: RunDone, tookMs: number): TryOutAnswer {
  const holds = besideEachOther(done);
  const counted = (found: (hold: TryOutHold) => boolean): number => holds.filter(found).length;
  return {
    from: asked.from,
    to: asked.to,
    readFrom: done.span.from,
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

interface Stay<H> extends HeldStay {
  readonly spindleId: string;
  readonly reason: TryOutReason;
  readonly hold: H;
}

/** As a replay pairs them, and held as long as a replay says. */
function besideEachOther({ recorded, runs, span }: RunDone): readonly TryOutHold[] {
  const onRecord = recorded.holds.map(({ spindleId, reason, position, hold }) =>
    stayOf(spindleId, reason, position, { ...hold, heldMs: heldMsOf(hold, span) }),
  );
  const tried = [...runs].flatMap(([spindleId, { holds }]) =>
    holds.map(({ reason, hold }) =>
      stayOf(spindleId, reason, hold.position, { ...hold, heldMs: heldMsOf(hold, span) }),
    ),
  );
  const { both, onlyOnRecord, onlyNow } = pairHolds(onRecord, tried, span);
  return [
    ...both.map(([one, other]) => ({ ...aboutOf(one), recorded: one.hold, tried: other.hold })),
    ...onlyOnRecord.map((one) => ({ ...aboutOf(one), recorded: one.hold })),
    ...onlyNow.map((one) => ({ ...aboutOf(one), tried: one.hold })),
  ];
}

function stayOf<H extends { readonly raisedAt: Instant; readonly endedAt?: Instant | undefined }>(
  spindleId: string,
  reason: TryOutReason,
  raisedBy: Position,
  hold: H,
): Stay<H> {
  const { raisedAt: raised, endedAt } = hold;
  return { spindleId, reason, about: `${reason} ${spindleId}`, raisedBy, raisedAt: raised, endedAt, hold };
}

const aboutOf = ({ spindleId, reason }: Stay<unknown>): Pick<TryOutHold, 'spindleId' | 'reason'> => ({
  spindleId,
  reason,
});
