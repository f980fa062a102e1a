// The rejected list's two ways in and its one way out: bytes kept with a reason, read again when a person asks.
import type { Draft } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import {
  idAlreadyUsed,
  lineRepeat,
  REJECTED_SOURCE,
  type Delivered,
  type Intake,
  type Taken,
} from '../intake/index.ts';
import type { Arrival, RejectedRow } from '../journal/index.ts';

export function repeatedIdArrival(delivered: Delivered, taken: Taken): Arrival {
  const { topic, payload, at } = delivered;
  const { device, channel, messageId } = taken;
  const problem = idAlreadyUsed(messageId);
  const draft: Draft = { kind: 'rejected', at, device, channel, problem: problem.type, bytes: payload.length };
  const repeat = lineRepeat(REJECTED_SOURCE, delivered);
  const rejected = { topic, problem, bytes: Uint8Array.from(payload) };
  return { draft, rejected, ...(repeat === undefined ? {} : { repeat }) };
}

export function takeRejected(intake: Intake, row: RejectedRow, at: Instant): Taken {
  return intake.take({ topic: row.topic, payload: row.bytes, at, connection: 0, dup: false });
}
