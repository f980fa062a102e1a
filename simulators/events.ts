// A thing that happens in the plant and that one of its devices will tell: planned first, put into an envelope later.
import { type MessageData } from '../shared/messages/index.ts';
import type { Instant } from '../shared/time.ts';
import type { InChannel } from '../shared/topics.ts';

interface Planned {
  /** When it happened, by the device's clock. */
  readonly time: Instant;
  readonly device: string;
  /** What it is about, as the envelope names it, e.g. assembly/A-0104. */
  readonly subject?: string;
}

export type PlannedEvent = {
  readonly [C in InChannel]: Planned & { readonly channel: C; readonly data: MessageData[C] };
}[InChannel];

export function inTimeOrder(events: readonly PlannedEvent[]): PlannedEvent[] {
  return events.toSorted((a, b) => a.time - b.time);
}
