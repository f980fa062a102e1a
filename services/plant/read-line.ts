// One line of a recording → a delivery, an act, a tick, or what is wrong with the line.
import { ACT_TYPES, type ActKind, type Actor } from '../../shared/acts.ts';
import { ROLES, type Role } from '../../shared/ids.ts';
import { RecordedLine, RETRIED_TYPE, ROLES_ATTRIBUTE, TICK_TYPE } from '../../shared/recording.ts';
import { instantOf, type Instant } from '../../shared/time.ts';
import { parseTopic } from '../../shared/topics.ts';
import type { Delivered } from '../intake/index.ts';

export type LineRead =
  | { readonly kind: 'delivered'; readonly at: Instant; readonly delivered: Delivered; readonly plant?: string }
  | {
      readonly kind: 'act';
      readonly at: Instant;
      readonly act: ActKind;
      readonly actor: Actor;
      readonly data: unknown;
      readonly plant: string;
    }
  | { readonly kind: 'tick'; readonly at: Instant }
  | { readonly kind: 'retried'; readonly at: Instant; readonly rejected: number; readonly by: string }
  | { readonly kind: 'fault'; readonly why: string };

const KIND_OF_TYPE = new Map<unknown, ActKind>(
  Object.entries(ACT_TYPES).map(([kind, type]) => [type, kind as ActKind]),
);

export function readLine(text: string): LineRead {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return { kind: 'fault', why: 'expected one JSON object a line' };
  }
  const parsed = RecordedLine.safeParse(json);
  if (!parsed.success) {
    return {
      kind: 'fault',
      why: parsed.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`).join('; '),
    };
  }
  const { topic, envelope, base64 } = parsed.data;
  const at = instantOf(parsed.data.at);
  const place = parseTopic(topic);
  if (place?.direction === 'act') return readAct(at, place, envelope ?? {});
  const payload = envelope === undefined ? Buffer.from(base64 ?? '', 'base64') : Buffer.from(JSON.stringify(envelope));
  const delivered: Delivered = { topic, payload, at, connection: 0, dup: false };
  return { kind: 'delivered', at, delivered, ...(place === undefined ? {} : { plant: place.plant }) };
}

function readAct(
  at: Instant,
  { person, plant }: { readonly person: string; readonly plant: string },
  envelope: Record<string, unknown>,
): LineRead {
  const { type, data } = envelope;
  if (type === TICK_TYPE) return { kind: 'tick', at };
  if (type === RETRIED_TYPE) {
    const { rejected, by } = (data ?? {}) as { rejected?: unknown; by?: unknown };
    return { kind: 'retried', at, rejected: Number(rejected), by: typeof by === 'string' ? by : person };
  }
  const act = KIND_OF_TYPE.get(type);
  if (act === undefined) return { kind: 'fault', why: `type: expected one of ${[...KIND_OF_TYPE.keys()].join(', ')}` };
  const words = typeof envelope[ROLES_ATTRIBUTE] === 'string' ? envelope[ROLES_ATTRIBUTE].split(' ') : [];
  const roles = words.filter(
    (word): word is Role | 'service' => word === 'service' || (ROLES as readonly string[]).includes(word),
  );
  return { kind: 'act', at, act, actor: { name: person, roles }, data, plant };
}
