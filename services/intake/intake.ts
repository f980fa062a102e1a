// One delivery after another: topic, binding, shape, identity. Holds only what tells a repeat on one connection.
import type { Draft } from '../../shared/entries.ts';
import { deviceSource } from '../../shared/envelope.ts';
import { isFrequent, type Birth } from '../../shared/messages/index.ts';
import type { FieldFault, Problem } from '../../shared/problem.ts';
import { instantOf, MILLISECONDS_A_DAY } from '../../shared/time.ts';
import { parseTopic, type InChannel, type Topic } from '../../shared/topics.ts';
import type { Arrival, RepeatKey } from '../journal/index.ts';
import { Bindings, type Binding } from './bindings.ts';
import type { Delivered, Taken } from './delivered.ts';
import { readMessage, type MessageRead } from './read-message.ts';
import { refusal } from './refusals.ts';

export interface IntakeSettings {
  readonly plant: string;
  /** Makes ids of bare payloads fresh across restarts: differs at each start. */
  readonly boot: string;
}

export interface Intake {
  take(delivered: Delivered): Taken;
  enrol(device: string, binding: Binding): void;
}

type InTopic = Extract<Topic, { direction: 'in' }>;
type Message = Extract<MessageRead, { kind: 'message' }>;

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
  readonly #topics = new Map<string, Topic | undefined>();
  readonly #packetIds = new Map<number, Set<number>>();
  #bare = 0;

  constructor(settings: IntakeSettings) {
    this.#settings = settings;
  }

  enrol(device: string, binding: Binding): void {
    this.#bindings.enrol(device, binding);
  }

  take(delivered: Delivered): Taken {
    const topic = this.#topic(delivered.topic);
    if (topic?.direction !== 'in' || topic.plant !== this.#settings.plant) return this.#strayed(delivered);
    const { device, channel } = topic;
    const channelProblem = this.#bindings.channelRefusal(device, channel);
    if (channelProblem !== undefined) return rejected(delivered, topic, channelProblem);
    const read = readMessage(channel, delivered.payload);
    if (read.kind === 'refusal') return rejected(delivered, topic, read.problem, read.id);
    if (read.envelope === undefined && this.#isRepeatOnConnection(delivered)) {
      return { device, channel, remarks: read.remarks };
    }
    return this.#kept(delivered, topic, read);
  }

  #kept(delivered: Delivered, topic: InTopic, read: Message): Taken {
    const { device, channel } = topic;
    const { envelope } = read;
    let data = read.data;
    if (SPINDLE_CHANNELS.has(channel)) {
      const spindle = this.#bindings.spindle(device, data['spindleId'] as string | undefined);
      if ('problem' in spindle) return rejected(delivered, topic, spindle.problem, envelope?.id);
      data = { ...data, spindleId: spindle.id };
    }
    if (channel === 'birth') this.#bindings.born(device, data as Birth);
    const remarks = [...read.remarks];
    const id = envelope?.id ?? `${this.#settings.boot}-${(this.#bare += 1)}`;
    const draft: Record<string, unknown> = { kind: channel, at: delivered.at, device, id, data };
    if (envelope !== undefined) {
      this.#remarkSource(envelope.source, device, remarks);
      addTime(draft, envelope.time, delivered.at, remarks);
      if (envelope.bootid !== undefined) draft['bootId'] = envelope.bootid;
      if (envelope.sequence !== undefined) draft['sequence'] = Number(envelope.sequence);
    }
    const repeat = envelope === undefined ? undefined : repeatKey(draft, channel, device, delivered.payload);
    // The draft was built field by field from what the channel's schema has just accepted.
    const arrival: Arrival = { draft: draft as unknown as Draft, ...(repeat === undefined ? {} : { repeat }) };
    const sequence = draft['sequence'] as number | undefined;
    return { arrival, device, channel, messageId: id, remarks, ...(sequence === undefined ? {} : { sequence }) };
  }

  #remarkSource(source: string, device: string, remarks: FieldFault[]): void {
    const own = deviceSource(this.#settings.plant, device);
    if (source !== own) remarks.push({ pointer: '/source', want: own, got: source });
  }

  /** Not ours to read, yet it was let in: kept as rejected, so that a person sees it. */
  #strayed(delivered: Delivered): Taken {
    const problem = refusal('unknown-type', [{ pointer: '', want: 'a topic of this plant', got: delivered.topic }]);
    return rejected(delivered, { device: 'unknown', channel: 'unknown' }, problem);
  }

  #topic(text: string): Topic | undefined {
    const known = this.#topics.get(text);
    if (known !== undefined) return known;
    const topic = parseTopic(text);
    if (this.#topics.size >= TOPICS_REMEMBERED_MAX) this.#topics.clear();
    this.#topics.set(text, topic);
    return topic;
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

function repeatKey(draft: Record<string, unknown>, channel: InChannel, source: string, content: Uint8Array): RepeatKey {
  const id = draft['id'] as string;
  if (!isFrequent(channel)) return { by: 'id', source, id, content };
  const bootId = draft['bootId'];
  const sequence = draft['sequence'];
  return typeof bootId === 'string' && typeof sequence === 'number'
    ? { by: 'sequence', source, bootId, sequence }
    : { by: 'recent-id', source, id };
}

function addTime(draft: Record<string, unknown>, text: string | undefined, at: number, remarks: FieldFault[]): void {
  if (text === undefined) return;
  const time = instantOf(text);
  draft['time'] = time;
  if (Math.abs(time - at) <= CLOCK_REMARK_MS) return;
  remarks.push({ pointer: '/time', want: 'a time near now; is the clock set?', got: text });
}

function rejected(
  delivered: Delivered,
  { device, channel }: { readonly device: string; readonly channel: string },
  problem: Problem,
  id?: string,
): Taken {
  const { topic, payload, at } = delivered;
  const draft: Draft = { kind: 'rejected', at, device, channel, problem: problem.type, bytes: payload.length };
  return {
    arrival: { draft, rejected: { topic, problem, bytes: payload } },
    device,
    channel,
    remarks: [],
    problem,
    ...(id === undefined ? {} : { messageId: id }),
  };
}
