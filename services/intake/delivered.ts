// What intake is handed by a broker, a relay or a file, and what it makes of it.
import type { FieldFault, Problem } from '../../shared/problem.ts';
import type { Instant } from '../../shared/time.ts';
import type { Arrival } from '../journal/index.ts';

export interface Delivered {
  readonly topic: string;
  readonly payload: Uint8Array;
  /** The payload as an object, where it was read already with the line it stood in. */
  readonly message?: Record<string, unknown>;
  /** It was rejected for this when it came, and is again. */
  readonly rejectedFor?: Problem;
  /** It was new to the journal that it comes from, so it is no repeat. */
  readonly asNew?: boolean;
  /** A line of an import, which may be done again: nothing of it comes on record twice, whatever it is. */
  readonly once?: boolean;
  /** Tells such a line from all others, where its message has no id. */
  readonly lineKey?: string | undefined;
  readonly at: Instant;
  /** Numbers the connection it came on; 0 for files. Only on the same one is DUP a repeat of a bare payload. */
  readonly connection: number;
  readonly packetId?: number;
  readonly dup: boolean;
}

/** One delivery, read. */
export interface Taken {
  /** Absent when it is a repeat that only the connection can tell. */
  readonly arrival?: Arrival;
  readonly device: string;
  readonly channel: string;
  readonly messageId?: string;
  readonly sequence?: number;
  readonly remarks: readonly FieldFault[];
  readonly problem?: Problem;
}

/** What is to be stored of some deliveries, in their order. */
export function arrivalsOf(taken: readonly Taken[]): Arrival[] {
  const arrivals: Arrival[] = [];
  for (const { arrival } of taken) if (arrival !== undefined) arrivals.push(arrival);
  return arrivals;
}
