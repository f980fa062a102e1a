// Messages held up on their way, each for some minutes, but never past one that has to do with the same thing.
import type { Instant } from '../../../shared/time.ts';
import { parseTopic } from '../../../shared/topics.ts';
import type { TimedMessage } from '../../../simulators/index.ts';

export interface HeldUp {
  /** In the order in which they arrive. What the devices say, their times included, is as it was. */
  readonly messages: readonly TimedMessage[];
  /** How many messages were passed by another that was sent later. */
  readonly overtaken: number;
}

/**
 * Message n waits for `shares[n % shares.length]` of `upToMs`, or until just before the next one of its device, spindle or assembly:
 * what is in a spindle when it was measured has to be known by then, and a device's own messages never overtake each other.
 */
export function heldUp(sent: readonly TimedMessage[], shares: readonly number[], upToMs: number): HeldUp {
  const things = thingsOf(sent);
  const next = new Map<string, Instant>();
  const arrivals: { readonly message: TimedMessage; readonly at: Instant; readonly place: number }[] = [];
  for (let place = sent.length - 1; place >= 0; place -= 1) {
    const message = sent[place];
    if (message === undefined) continue;
    const own = things[place] ?? [];
    const before = Math.min(...own.map((thing) => next.get(thing) ?? Number.POSITIVE_INFINITY));
    const wished = message.at + (shares[place % shares.length] ?? 0) * upToMs;
    // Whole ms; of two at one instant the one that was sent first still comes first.
    const at = own.length === 0 ? message.at : Math.max(message.at, Math.floor(Math.min(wished, before)));
    for (const thing of own) next.set(thing, at);
    arrivals.push({ message, at, place });
  }
  const arrived = arrivals.toSorted((a, b) => a.at - b.at || a.place - b.place);
  let latest = -1;
  let overtaken = 0;
  for (const { place } of arrived) {
    if (place < latest) overtaken += 1;
    latest = Math.max(latest, place);
  }
  return { messages: arrived.map(({ message, at }) => ({ ...message, at })), overtaken };
}

/** By place: what each message has to do with. None: what a person declares, which stays where it is. */
function thingsOf(sent: readonly TimedMessage[]): readonly (readonly string[])[] {
  const serves = new Map<string, readonly string[]>();
  const loaded = new Map<string, string>();
  return sent.map(({ topic, envelope }) => {
    const parsed = parseTopic(topic);
    if (parsed?.direction !== 'in') return [];
    const { device } = parsed;
    const data = envelope.data as { serves?: string[]; spindleId?: string; assemblyId?: string; action?: string };
    if (data.serves !== undefined) serves.set(device, data.serves);
    const spindles = data.spindleId === undefined ? (serves.get(device) ?? []) : [data.spindleId];
    const taken = spindles.flatMap((spindle) => loaded.get(spindle) ?? []);
    const named = data.assemblyId === undefined ? [] : [data.assemblyId];
    if (data.action !== undefined)
      for (const spindle of spindles) {
        if (data.action === 'load' && data.assemblyId !== undefined) loaded.set(spindle, data.assemblyId);
        else loaded.delete(spindle);
      }
    return [
      `device ${device}`,
      ...spindles.map((id) => `spindle ${id}`),
      ...[...taken, ...named].map((id) => `assembly ${id}`),
    ];
  });
}
