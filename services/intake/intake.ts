// One delivery after another: topic, binding, shape, identity. Holds only what tells a repeat on one connection.
import type { Draft } from '../../shared/entries.ts';
import { deviceSource, type Envelope } from '../../shared/envelope.ts';
import { isId } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import { isFrequent, type Birth } from '../../shared/messages/index.ts';
import type { FieldFault, Problem } from '../../shared/problem.ts';
import { instantOf, MILLISECONDS_A_DAY, type Instant } from '../../shared/time.ts';
import { parseTopic, TOPIC_ROOT, type InChannel, type Topic } from '../../shared/topics.ts';
import type { Arrival, RepeatKey } from '../journal/index.ts';
import { Bindings, type Binding, type Born } from './bindings.ts';
import type { Delivered, Taken } from './delivered.ts';
import { readMessage, readParsed, type MessageRead } from './read-message.ts';
import { refusal, shown } from './refusals.ts';
import { takeSamples, type WaveData } from './wave-samples.ts';

export interface IntakeSettings {
  readonly plant: string;
  /** Makes ids of bare payloads fresh across restarts: differs at each start. */
  readonly boot: string;
}

export interface Intake {
  take(delivered: Delivered): Taken;
  enrol(device: string, binding: Binding): void;
  /** What a device said at birth before the start. */
  born(device: string, born: Born): void;
}

type InTopic = Extract<Topic, { direction: 'in' }>;
type Message = Extract<MessageRead, { kind: 'message' }>;

/** A topic read before, and the source that its device should name. */
interface Known {
  readonly topic: InTopic;
  readonly source: string;
}

interface Drafted {
  readonly kind: InChannel;
  readonly at: Instant;
  readonly device: string;
  readonly id: string;
  readonly data: Record<string, unknown>;
  time?: Instant;
  bootId?: string;
  sequence?: number;
}

/** A device's clock that is off by more than this is remarked on: more than being late. */
const CLOCK_REMARK_MS = MILLISECONDS_A_DAY;
const TOPICS_REMEMBERED_MAX = 50_000;
/** MQTT packet ids of bare payloads remembered per connection, and connections remembered. */
const PACKET_IDS_MAX = 256;
const CONNECTIONS_MAX = 5000;
const SPINDLE_CHANNELS: ReadonlySet<InChannel> = new Set(['summary', 'wave', 'machine', 'load', 'life']);

export function createIntake(settings: IntakeSettings): Intake {
  return new DeviceIntake(settings);
}

class DeviceIntake implements Intake {
  readonly #settings: IntakeSettings;
  readonly #bindings = new Bindings();
  readonly #topics = new Map<string, Known>();
  readonly #packetIds = new Map<number, Set<number>>();
  #bare = 0;

  constructor(settings: IntakeSettings) {
    this.#settings = settings;
  }

  enrol(device: string, binding: Binding): void {
    this.#bindings.enrol(device, binding);
  }

  born(device: string, born: Born): void {
    this.#bindings.born(device, born);
  }

  take(delivered: Delivered): Taken {
    const known = this.#known(delivered.topic);
    const { message, rejectedFor } = delivered;
    if (rejectedFor !== undefined) return rejected(delivered, known?.topic ?? this.#strayed(delivered), rejectedFor);
    if (known === undefined) return this.#unread(delivered);
    const { topic } = known;
    const { device, channel } = topic;
    const channelProblem = this.#bindings.channelRefusal(device, channel);
    if (channelProblem !== undefined) return rejected(delivered, topic, channelProblem);
    const read = message === undefined ? readMessage(channel, delivered.payload) : readParsed(channel, message, true);
    if (read.kind === 'refusal') return rejected(delivered, topic, read.problem, read.id);
    if (read.envelope === undefined && this.#isRepeatOnConnection(delivered)) {
      return { device, channel, remarks: read.remarks };
    }
    return this.#kept(delivered, known, read);
  }

  #kept(delivered: Delivered, { topic, source }: Known, read: Message): Taken {
    const { device, channel } = topic;
    const { envelope, data } = read;
    if (SPINDLE_CHANNELS.has(channel)) {
      const spindle = this.#bindings.spindle(device, data['spindleId'] as string | undefined);
      if ('problem' in spindle) return rejected(delivered, topic, spindle.problem, envelope?.id);
      // In place: the data were read for this message alone, and a copy of an object costs more than reading it did.
      data['spindleId'] = spindle.id;
    }
    if (channel === 'birth') this.#bindings.born(device, data as Birth);
    const samples = channel === 'wave' ? takeSamples(data as WaveData, read.counts) : NO_SAMPLES;
    if ('problem' in samples) return rejected(delivered, topic, samples.problem, envelope?.id);
    const draft: Drafted = {
      kind: channel,
      at: delivered.at,
      device,
      id: envelope?.id ?? `${this.#settings.boot}-${(this.#bare += 1)}`,
      data,
    };
    let { remarks } = read;
    if (envelope !== undefined) {
      if (envelope.time !== undefined) draft.time = instantOf(envelope.time);
      if (envelope.bootid !== undefined) draft.bootId = envelope.bootid;
      if (envelope.sequence !== undefined) draft.sequence = Number(envelope.sequence);
      remarks = remarksOn(envelope, source, draft, remarks);
    }
    // The draft was built field by field from what the channel's schema has just accepted.
    const arrival: { -readonly [F in keyof Arrival]: Arrival[F] } = { draft: draft as unknown as Draft };
    const repeat = envelope === undefined ? lineRepeat(source, delivered) : repeatKey(draft, delivered);
    if (repeat !== undefined) arrival.repeat = repeat;
    if (delivered.asNew === true) arrival.asNew = true;
    if (samples.counts !== undefined) arrival.counts = samples.counts;
    const taken: { -readonly [F in keyof Taken]: Taken[F] } = {
      arrival,
      device,
      channel,
      messageId: draft.id,
      remarks,
    };
    if (draft.sequence !== undefined) taken.sequence = draft.sequence;
    return taken;
  }

  /** Not ours to read, yet it was let in: kept as rejected, so that a person and, where it is known, the device see it. */
  #unread(delivered: Delivered): Taken {
    const from = this.#strayed(delivered);
    if (from !== STRAYED) return rejected(delivered, from, this.#bindings.unknownChannel(from.device, from.channel));
    const got = shown(delivered.topic);
    return rejected(delivered, from, refusal('unknown-type', [{ pointer: '', want: say`a topic of this plant`, got }]));
  }

  /** Who sent it and where to, as far as the topic tells: a broker lets a device publish under its own name only. */
  #strayed({ topic }: Delivered): { readonly device: string; readonly channel: string } {
    const own = `${TOPIC_ROOT}/${this.#settings.plant}/in/`;
    const [device = '', channel = '', ...more] = topic.startsWith(own) ? topic.slice(own.length).split('/') : [];
    return isId(device) && isId(channel) && more.length === 0 ? { device, channel } : STRAYED;
  }

  #known(text: string): Known | undefined {
    const known = this.#topics.get(text);
    if (known !== undefined) return known;
    const topic = parseTopic(text);
    if (topic?.direction !== 'in' || topic.plant !== this.#settings.plant) return undefined;
    if (this.#topics.size >= TOPICS_REMEMBERED_MAX) this.#topics.clear();
    const read = { topic, source: deviceSource(topic.plant, topic.device) };
    this.#topics.set(text, read);
    return read;
  }

  #isRepeatOnConnection({ connection, packetId, dup }: Delivered): boolean {
    if (packetId === undefined || connection === 0) return false;
    const seen = this.#packetIds.get(connection) ?? new Set<number>();
    if (dup && seen.has(packetId)) return true;
    seen.delete(packetId);
    seen.add(packetId);
    if (seen.size > PACKET_IDS_MAX) seen.delete(first(seen));
    this.#packetIds.set(connection, seen);
    if (this.#packetIds.size > CONNECTIONS_MAX) this.#packetIds.delete(first(this.#packetIds.keys()));
    return false;
  }
}

function first<T>(items: Iterable<T>): T {
  for (const item of items) return item;
  throw new Error('nothing to take the first of');
}

const NO_SAMPLES: ReturnType<typeof takeSamples> = {};

/** Of what frequent messages say nothing more is remembered than that they came. */
const ALL_THE_SAME = new Uint8Array();

/** How what has no id of its own is known again: by its line, where it may be imported twice. */
export function lineRepeat(source: string, { lineKey, payload }: Delivered): RepeatKey | undefined {
  return lineKey === undefined ? undefined : { by: 'id', source, id: lineKey, content: payload };
}

/** No device's: what is rejected takes no id from a message that is kept. */
export const REJECTED_SOURCE = '/rejected';

function repeatKey({ kind, device: source, id, bootId, sequence }: Drafted, delivered: Delivered): RepeatKey {
  // Asked for last: what is frequent never needs the bytes of what was read with its line.
  if (!isFrequent(kind)) return { by: 'id', source, id, content: delivered.payload };
  if (bootId === undefined || sequence === undefined) {
    return delivered.once === true ? { by: 'id', source, id, content: ALL_THE_SAME } : { by: 'recent-id', source, id };
  }
  return { by: 'sequence', source, bootId, sequence };
}

/** Beside those on its data: whether it names itself rightly, and whether its clock is set. */
function remarksOn(
  { source, time: text }: Envelope,
  own: string,
  { time, at }: Drafted,
  remarks: readonly FieldFault[],
): readonly FieldFault[] {
  const clockIsOff = time !== undefined && Math.abs(time - at) > CLOCK_REMARK_MS;
  if (source === own && !clockIsOff) return remarks;
  const more: FieldFault[] = [];
  if (source !== own) more.push({ pointer: '/source', want: own, got: source });
  if (clockIsOff) more.push({ pointer: '/time', want: say`a time near now; is the clock set?`, got: text ?? '' });
  return [...remarks, ...more];
}

const STRAYED = { device: 'unknown', channel: 'unknown' } as const;

function rejected(
  delivered: Delivered,
  { device, channel }: { readonly device: string; readonly channel: string },
  problem: Problem,
  id?: string,
): Taken {
  const { topic, payload, at } = delivered;
  const draft: Draft = { kind: 'rejected', at, device, channel, problem: problem.type, bytes: payload.length };
  const repeat = lineRepeat(REJECTED_SOURCE, delivered);
  return {
    arrival: {
      draft,
      // A copy: the payload may be a view of a buffer that is used again.
      rejected: { topic, problem, bytes: Uint8Array.from(payload) },
      ...(repeat === undefined ? {} : { repeat }),
    },
    device,
    channel,
    remarks: [],
    problem,
    ...(id === undefined ? {} : { messageId: id }),
  };
}
