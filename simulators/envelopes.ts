// Puts what a device has to say into its envelope: boot and sequence for what comes often, an id of its own for the rest.
import { deviceSource, personSource, type Envelope } from '../shared/envelope.ts';
import { ACT_TYPES, type ActData, type ActKind } from '../shared/acts.ts';
import type { Role } from '../shared/ids.ts';
import { ROLES_ATTRIBUTE } from '../shared/recording.ts';
import { isFrequent, MESSAGE_TYPES } from '../shared/messages/index.ts';
import { rfc3339Of, type Instant } from '../shared/time.ts';
import { actTopic, inTopic } from '../shared/topics.ts';
import type { PlannedEvent } from './events.ts';
import { prngOf } from './prng.ts';

/** A message with the instant at which it goes out (in a live run) or came in (in a history). */
export interface TimedMessage {
  readonly topic: string;
  readonly envelope: Envelope;
  /** ms UTC. */
  readonly at: Instant;
}

const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const TIME_CHARACTERS = 10;
const RANDOM_CHARACTERS = 16;

/** 26 characters that sort by time: 48 bits of ms and 80 bits drawn from the key, so the same thing keeps its id. */
export function idOf(time: Instant, key: string): string {
  let text = '';
  let rest = time;
  for (let n = 0; n < TIME_CHARACTERS; n += 1) {
    text = ALPHABET.charAt(rest % 32) + text;
    rest = Math.floor(rest / 32);
  }
  const prng = prngOf(key);
  for (let n = 0; n < RANDOM_CHARACTERS; n += 1) text += ALPHABET.charAt(prng.whole(0, 31));
  return text;
}

/** One device from its start to its end. */
interface Boot {
  readonly topics: Map<string, string>;
  readonly source: string;
  readonly bootId: string;
  sequence: number;
}

export interface Enveloper {
  seal(event: PlannedEvent, at: Instant): TimedMessage;
  bootIdOf(device: string): string;
}

/** @param run what tells this run from another, so that sequences may begin anew under another boot id. */
export function createEnveloper(plantId: string, seed: number, run: string): Enveloper {
  const boots = new Map<string, Boot>();
  const bootOf = (device: string): Boot => {
    const known = boots.get(device);
    if (known !== undefined) return known;
    const bootId = idOf(0, `${seed}/${device}/${run}`).slice(-8).toLowerCase();
    const boot: Boot = { topics: new Map(), source: deviceSource(plantId, device), bootId, sequence: 0 };
    boots.set(device, boot);
    return boot;
  };
  return {
    bootIdOf: (device) => bootOf(device).bootId,
    seal: (event, at) => {
      const boot = bootOf(event.device);
      const { channel } = event;
      let topic = boot.topics.get(channel);
      if (topic === undefined) {
        topic = inTopic(plantId, event.device, channel);
        boot.topics.set(channel, topic);
      }
      return { topic, envelope: isFrequent(channel) ? oftenSealed(boot, event) : onceSealed(boot, event, seed), at };
    },
  };
}

function oftenSealed(boot: Boot, event: PlannedEvent): Envelope {
  boot.sequence += 1;
  const sequence = String(boot.sequence);
  return {
    specversion: '1.0',
    id: `${boot.bootId}-${sequence}`,
    source: boot.source,
    type: MESSAGE_TYPES[event.channel],
    time: rfc3339Of(event.time),
    sequence,
    bootid: boot.bootId,
    data: event.data,
  };
}

function onceSealed(boot: Boot, event: PlannedEvent, seed: number): Envelope {
  return {
    specversion: '1.0',
    id: idOf(event.time, `${seed}/${event.device}/${event.channel}/${event.subject ?? ''}/${event.time}`),
    source: boot.source,
    type: MESSAGE_TYPES[event.channel],
    ...(event.subject === undefined ? {} : { subject: event.subject }),
    time: rfc3339Of(event.time),
    datacontenttype: 'application/json',
    // A result or a load told again after a new start is the same message, to the last letter.
    ...(event.channel === 'birth' || event.channel === 'state' ? { bootid: boot.bootId } : {}),
    clock: 'synced',
    data: event.data,
  };
}

/** A person's act as the journal takes it, with the right it was done with. */
export function sealAct<K extends ActKind>(
  act: { readonly kind: K; readonly data: ActData[K] },
  by: {
    readonly plantId: string;
    readonly person: string;
    readonly role: Role;
    readonly at: Instant;
    readonly key: string;
  },
): TimedMessage {
  const roles = { [ROLES_ATTRIBUTE]: by.role };
  return {
    topic: actTopic(by.plantId, by.person),
    at: by.at,
    envelope: {
      specversion: '1.0',
      id: idOf(by.at, by.key),
      source: personSource(by.plantId, by.person),
      type: ACT_TYPES[act.kind],
      time: rfc3339Of(by.at),
      datacontenttype: 'application/json',
      ...roles,
      data: act.data,
    },
  };
}
