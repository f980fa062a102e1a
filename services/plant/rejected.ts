// The rejected list's two ways in and its one way out: bytes kept with a reason, read again when a person asks.
import type { Draft } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import { idAlreadyUsed, type Delivered, type Intake, type Taken } from '../intake/index.ts';
import type { Arrival, RejectedRow } from '../journal/index.ts';

export function repeatedIdArrival({ topic, payload, at }: Delivered, taken: Taken): Arrival {
  const { device, channel, messageId } = taken;
  const problem = idAlreadyUsed(messageId);
  const draft: Draft = { kind: 'rejected', at, device, channel, problem: problem.type, bytes: payload.length };
  return { draft, rejected: { topic, problem, bytes: Uint8Array.from(payload) } };
}

export function takeRejected(intake: Intake, row: RejectedRow, at: Instant): Taken {
  return intake.take({ topic: row.topic, payload: row.bytes, at, connection: 0, dup: false });
}
