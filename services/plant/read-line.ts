// One line of a recording → a delivery, an act, a tick, or what is wrong with the line.
import { createHash } from 'node:crypto';
import { ACT_TYPES, type ActKind, type Actor } from '../../shared/acts.ts';
import type { AnalysedEntry, Position } from '../../shared/entries.ts';
import { PLAIN } from '../../shared/fault-words.ts';
import { ROLES, type Role } from '../../shared/ids.ts';
import type { Problem } from '../../shared/problem.ts';
import {
  ANALYSED_TYPE,
  CHAIN_TYPE,
  RecordedLine,
  RETRIED_TYPE,
  ROLES_ATTRIBUTE,
  TICK_TYPE,
} from '../../shared/recording.ts';
import { Rfc3339 } from '../../shared/time-schema.ts';
import { instantOf, type Instant } from '../../shared/time.ts';
import { ACT_CHANNEL, parseTopic } from '../../shared/topics.ts';
import { AnalysedData } from '../../shared/wave-views.ts';
import type { Delivered } from '../intake/index.ts';

interface Line {
  readonly at: Instant;
  /** In the journal that it was exported from. */
  readonly position: Position | undefined;
}

interface OfPlant extends Line {
  readonly plant: string;
}

export type ReadLine =
  /** Whose topic it is, intake finds out. */
  | (Line & { readonly kind: 'delivered'; readonly delivered: RecordedDelivery })
  | (OfPlant & {
      readonly kind: 'act';
      readonly act: ActKind;
      readonly id: string | undefined;
      readonly actor: Actor;
      readonly data: unknown;
    })
  | (OfPlant & { readonly kind: 'tick' })
  /** Says where the journal's chain stood; nothing to be played. */
  | (OfPlant & { readonly kind: 'chain' })
  | (OfPlant & { readonly kind: 'analysed'; readonly data: Omit<AnalysedEntry, 'kind' | 'at' | 'position'> })
  | (OfPlant & { readonly kind: 'retried'; readonly rejected: Position; readonly actor: Actor });

export interface LineFault {
  readonly kind: 'fault';
  readonly why: string;
}

type Envelope = Readonly<Record<string, unknown>>;

const KIND_OF_TYPE = new Map<unknown, ActKind>(
  Object.entries(ACT_TYPES).map(([kind, type]) => [type, kind as ActKind]),
);

/** A message out of a recording: its bytes are made only where somebody wants them. */
export class RecordedDelivery implements Delivered {
  readonly topic: string;
  readonly at: Instant;
  readonly connection = 0;
  readonly dup = false;
  readonly message?: Record<string, unknown>;
  readonly rejectedFor?: Problem;
  asNew?: boolean;
  once?: boolean;
  readonly #position: Position | undefined;
  readonly #base64: string | undefined;

  constructor({ topic, envelope, base64, problem, position }: RecordedLine, at: Instant) {
    this.#position = position;
    this.topic = topic;
    this.at = at;
    this.#base64 = base64;
    if (envelope !== undefined) this.message = envelope;
    if (problem !== undefined) this.rejectedFor = problem;
  }

  get lineKey(): string | undefined {
    return this.once === true ? keyOfLine(this.topic, this.at, this.#position, this.payload) : undefined;
  }

  get payload(): Uint8Array {
    return this.message === undefined
      ? Buffer.from(this.#base64 ?? '', 'base64')
      : Buffer.from(JSON.stringify(this.message));
  }
}

/** The same line of the same recording, also where it was exported a second time. */
export function keyOfLine(topic: string, at: Instant, position: Position | undefined, content: Uint8Array): string {
  const hash = createHash('sha256').update(`${topic} ${at} ${position ?? ''} `);
  return `line-${hash.update(content).digest('hex').slice(0, LINE_KEY_DIGITS)}`;
}

const LINE_KEY_DIGITS = 32;

export function readLine(text: string): ReadLine | LineFault {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return { kind: 'fault', why: 'expected one JSON object a line' };
  }
  const line = isPlainLine(json) ? json : RecordedLine.safeParse(json, PLAIN);
  if (!('success' in line)) return ofLine(line);
  if (line.success) return ofLine(line.data);
  const why = line.error.issues.map((issue) => `${issue.path.join('.') || 'line'}: ${issue.message}`).join('; ');
  return { kind: 'fault', why };
}

const ACT_TOPIC = new RegExp(`/${ACT_CHANNEL}/`);
const TOPIC_LENGTH_USUAL = 200;
const PLAIN_FIELDS: ReadonlySet<string> = new Set(['topic', 'at', 'envelope', 'position']);

/** What the schema takes as it is, told quickly for the lines that most recordings consist of. */
function isPlainLine(json: unknown): json is RecordedLine {
  if (typeof json !== 'object' || json === null) return false;
  for (const field in json) if (!PLAIN_FIELDS.has(field)) return false;
  const { topic, at, envelope, position } = json as Record<string, unknown>;
  return (
    typeof topic === 'string' &&
    topic.length > 0 &&
    topic.length <= TOPIC_LENGTH_USUAL &&
    typeof envelope === 'object' &&
    envelope !== null &&
    !Array.isArray(envelope) &&
    (position === undefined || (Number.isSafeInteger(position) && (position as number) >= 1)) &&
    Rfc3339.safeParse(at).success
  );
}

function ofLine(line: RecordedLine): ReadLine | LineFault {
  const at = instantOf(line.at);
  const place = ACT_TOPIC.test(line.topic) ? parseTopic(line.topic) : undefined;
  if (place?.direction === 'act') {
    return readAct({ at, position: line.position, plant: place.plant }, place.person, line.envelope ?? {});
  }
  return { kind: 'delivered', at, position: line.position, delivered: new RecordedDelivery(line, at) };
}

function readAct(about: OfPlant, person: string, envelope: Envelope): ReadLine | LineFault {
  const { type, data, id } = envelope;
  if (type === TICK_TYPE) return { kind: 'tick', ...about };
  if (type === CHAIN_TYPE) return { kind: 'chain', ...about };
  if (type === ANALYSED_TYPE) return readAnalysed(about, data);
  const actor = { name: person, roles: rolesOf(envelope) };
  if (type === RETRIED_TYPE) {
    const rejected = (data as { rejected?: unknown } | undefined)?.rejected;
    return Number.isSafeInteger(rejected)
      ? { kind: 'retried', ...about, rejected: rejected as number, actor }
      : { kind: 'fault', why: 'envelope.data.rejected: expected the position of a rejected message' };
  }
  const act = KIND_OF_TYPE.get(type);
  if (act === undefined) {
    return { kind: 'fault', why: `envelope.type: expected one of ${[...KIND_OF_TYPE.keys()].join(', ')}` };
  }
  return { kind: 'act', ...about, act, id: typeof id === 'string' && id !== '' ? id : undefined, actor, data };
}

function readAnalysed(about: OfPlant, data: unknown): ReadLine | LineFault {
  const read = AnalysedData.safeParse(data, PLAIN);
  if (read.success) {
    const { summary, noReading, outcome, ...rest } = read.data;
    const said = { ...(summary === undefined ? {} : { summary }), ...(noReading === undefined ? {} : { noReading }) };
    return { kind: 'analysed', ...about, data: { ...rest, ...said, outcome } };
  }
  const faults = read.error.issues.map(({ path, message }) => `envelope.data.${path.join('.')}: ${message}`);
  return { kind: 'fault', why: faults.join('; ') };
}

function rolesOf(envelope: Envelope): Actor['roles'] {
  const words = envelope[ROLES_ATTRIBUTE];
  if (typeof words !== 'string') return [];
  return words.split(' ').filter((word): word is Role | 'service' => KNOWN_ROLES.has(word));
}

const KNOWN_ROLES: ReadonlySet<string> = new Set([...ROLES, 'service']);
