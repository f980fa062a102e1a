// How messages come in: told twice, held up in a device that lost its connection, stamped by a clock that is wrong.
import {
  instantOf,
  MILLISECONDS_A_MINUTE,
  MILLISECONDS_A_SECOND,
  MILLISECONDS_AN_HOUR,
  rfc3339Of,
  type Instant,
} from '../../shared/time.ts';
import { parseTopic } from '../../shared/topics.ts';
import type { TimedMessage } from '../envelopes.ts';
import type { Prng } from '../prng.ts';
import type { PlantDevice } from '../plant.ts';

export interface Delivery {
  /** Share of messages that come twice, the second up to an hour later. */
  readonly doubled: number;
  /** By device: when it was cut off. */
  readonly outages: ReadonlyMap<string, readonly Outage[]>;
  /** By device: what its clock says at a true instant. */
  readonly clocks: ReadonlyMap<string, (at: Instant) => Instant>;
}

export interface Outage {
  readonly from: Instant;
  readonly to: Instant;
}

export const PROMPT: Delivery = { doubled: 0, outages: new Map(), clocks: new Map() };

/** No device is cut off for longer than this. */
export const OUTAGE_MAX_MS = 3 * MILLISECONDS_AN_HOUR;
const NOTICED_MS = 45 * MILLISECONDS_A_SECOND;
const DOUBLED_WITHIN_MS = MILLISECONDS_AN_HOUR;

/** Every message with the instant at which it comes in, in that order; none comes after `until`, when nobody speaks any more. */
export function delivered(
  messages: Iterable<TimedMessage>,
  delivery: Delivery,
  { prng, until }: { readonly prng: Prng; readonly until: Instant },
): TimedMessage[] {
  const births = new Map<string, TimedMessage>();
  const out: TimedMessage[] = [];
  for (const message of messages) {
    const place = parseTopic(message.topic);
    if (place?.direction !== 'in') {
      out.push(message);
      continue;
    }
    const { device, channel } = place;
    const stamped = withClock(message, delivery.clocks.get(device));
    if (channel === 'birth' && !births.has(device)) births.set(device, message);
    const outage = delivery.outages.get(device)?.find(({ from, to }) => message.at >= from && message.at < to);
    const at = outage?.to ?? message.at;
    out.push({ ...stamped, at });
    if (prng.chance(delivery.doubled)) {
      // Now and then at once, now and then when nobody thinks of it any more.
      const later = prng.chance(0.5) ? 0 : prng.between(0, DOUBLED_WITHIN_MS);
      out.push({ ...stamped, at: Math.round(at + later) });
    }
  }
  const connections = [...delivery.outages].flatMap(([device, outages]) => {
    const birth = births.get(device);
    if (birth === undefined) return [];
    return outages.flatMap((outage, nth) => lostAndBack(birth, outage, nth, delivery.clocks.get(device)));
  });
  // Stable: who comes back says so before the messages that waited.
  return [...connections, ...out].filter(({ at }) => at <= until).toSorted((a, b) => a.at - b.at);
}

function withClock(message: TimedMessage, clock: ((at: Instant) => Instant) | undefined): TimedMessage {
  const { time } = message.envelope;
  if (clock === undefined || time === undefined) return message;
  return { ...message, envelope: { ...message.envelope, time: rfc3339Of(clock(instantOf(time))) } };
}

function lostAndBack(
  birth: TimedMessage,
  { from, to }: Outage,
  nth: number,
  clock: ((at: Instant) => Instant) | undefined,
): TimedMessage[] {
  const told = (at: Instant, more: Pick<TimedMessage['envelope'], 'id' | 'type' | 'data'>): TimedMessage =>
    withClock({ topic: birth.topic, at, envelope: { ...birth.envelope, time: rfc3339Of(at), ...more } }, clock);
  const asState = (at: Instant, id: string, data: unknown): TimedMessage => {
    const message = told(at, { id, type: birth.envelope.type.replace('birth', 'state'), data });
    return { ...message, topic: birth.topic.replace(/birth$/, 'state') };
  };
  const id = `${birth.envelope.id}-${nth}`;
  const lost =
    to - from > NOTICED_MS ? [asState(from + NOTICED_MS, `${id}-lost`, { online: false, reason: 'lost' })] : [];
  return [
    ...lost,
    told(to, { id: `${id}-birth`, type: birth.envelope.type, data: birth.envelope.data }),
    asState(to, `${id}-back`, { online: true, reason: 'connected' }),
  ];
}

interface Stretch {
  readonly devices: readonly PlantDevice[];
  readonly from: Instant;
  readonly until: Instant;
  readonly prng: Prng;
}

/** Sensors lose their connection for up to hours, controls and benches for up to minutes; what waited comes all at once. */
export function drawOutages({ devices, from, until, prng }: Stretch): Delivery['outages'] {
  const longestMs = {
    sensor: OUTAGE_MAX_MS,
    machine: 10 * MILLISECONDS_A_MINUTE,
    bench: MILLISECONDS_AN_HOUR,
    reader: MILLISECONDS_A_MINUTE,
  } as const;
  return new Map(
    devices.map(({ device, kind }) => {
      const outages: Outage[] = [];
      let at = from + prng.between(0.5, 6) * MILLISECONDS_AN_HOUR;
      while (at < until) {
        // Short ones are as likely as long ones.
        const lasts = Math.max(2 * MILLISECONDS_A_SECOND, longestMs[kind] * 0.005 ** prng.next());
        outages.push({ from: Math.round(at), to: Math.min(until, Math.round(at + lasts)) });
        at += lasts + prng.between(0.5, 10) * MILLISECONDS_AN_HOUR;
      }
      return [device, outages];
    }),
  );
}

const OFFSETS_MS = [
  MILLISECONDS_A_SECOND,
  MILLISECONDS_A_MINUTE,
  MILLISECONDS_AN_HOUR,
  24 * MILLISECONDS_AN_HOUR,
  30 * 24 * MILLISECONDS_AN_HOUR,
] as const;
const DRIFT_PPM_MAX = 100;
const NEVER_SET_SHARE = 0.1;
const NOBODY_SET_MS = Date.UTC(2000, 0, 1);

/** Most clocks are off by seconds to a month and drift; some are set right, or wrong, in the middle; some never were set. */
export function drawClocks({ devices, from, until, prng }: Stretch): Delivery['clocks'] {
  const clocks = new Map<string, (at: Instant) => Instant>();
  for (const { device } of devices) {
    if (prng.chance(0.3)) continue;
    if (prng.chance(NEVER_SET_SHARE)) {
      clocks.set(device, (at) => NOBODY_SET_MS + (at - from));
      continue;
    }
    const offset = prng.pick(OFFSETS_MS) * prng.between(-3, 3);
    const drift = (prng.between(-1, 1) * DRIFT_PPM_MAX) / 1e6;
    const setAt = prng.chance(0.4) ? from + prng.next() * (until - from) : Infinity;
    const after = prng.chance(0.6) ? 0 : prng.pick(OFFSETS_MS) * prng.between(-1, 1);
    clocks.set(device, (at) => Math.round(at < setAt ? at + offset + drift * (at - from) : at + after));
  }
  return clocks;
}
