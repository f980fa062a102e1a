// The rejected list's two ways in and its one way out: bytes kept with a reason, read again when a person asks.
import type { Draft } from '../../shared/entries.ts';
import type { Problem } from '../../shared/problem.ts';
import { PROBLEM_PREFIX } from '../../shared/problem.ts';
import type { Instant } from '../../shared/time.ts';
import { REFUSALS, type Delivered, type Intake, type Taken } from '../intake/index.ts';
import type { Arrival, RejectedRow } from '../journal/index.ts';

export function repeatedIdArrival(delivered: Delivered, taken: Taken): Arrival {
  const problem: Problem = {
    type: `${PROBLEM_PREFIX}id-already-used`,
    title: REFUSALS['id-already-used'],
    status: 409,
    errors: [{ pointer: '/id', want: 'an id not used before', got: taken.messageId ?? 'none' }],
  };
  const { topic, payload, at } = delivered;
  const { device, channel } = taken;
  const draft: Draft = { kind: 'rejected', at, device, channel, problem: problem.type, bytes: payload.length };
  return { draft, rejected: { topic, problem, bytes: Uint8Array.from(payload) } };
}

export function takeRejected(intake: Intake, row: RejectedRow, at: Instant): Taken {
  return intake.take({ topic: row.topic, payload: row.bytes, at, connection: 0, dup: false });
}
