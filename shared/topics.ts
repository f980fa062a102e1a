// The MQTT topic grammar, built and read in this one file by broker, intake, dashboard and simulators alike.
// Upstream by device, downstream by subject: a sensor is swapped and a tool changes machine, a fixed path would lie.
import { isId, SUBJECT_KINDS, type SubjectKind } from './ids.ts';

export const TOPIC_ROOT = 'counterpoise/v1';
/** Root (2) + plant + direction + name (1 or 2) + channel. */
export const TOPIC_LEVELS_MAX = 7;
export const TOPIC_BYTES_MAX = 200;

export const IN_CHANNELS = [
  'birth',
  'state',
  'build',
  'result',
  'correction',
  'proof',
  'test',
  'summary',
  'wave',
  'machine',
  'load',
  'life',
  'query',
] as const;
export type InChannel = (typeof IN_CHANNELS)[number];

export const BACK_CHANNELS = ['receipt', 'ask', 'time', 'answer'] as const;
export type BackChannel = (typeof BACK_CHANNELS)[number];

export const OUT_CHANNELS = ['status', 'hold', 'gate', 'event'] as const;
export type OutChannel = (typeof OUT_CHANNELS)[number];

/** People's acts travel the same journal under a topic that no device can publish. */
export const ACT_CHANNEL = 'act';

export type Topic =
  | { readonly direction: 'in'; readonly plant: string; readonly device: string; readonly channel: InChannel }
  | { readonly direction: 'back'; readonly plant: string; readonly device: string; readonly channel: BackChannel }
  | {
      readonly direction: 'out';
      readonly plant: string;
      readonly subjectKind: SubjectKind;
      readonly id: string;
      readonly channel: OutChannel;
    }
  | { readonly direction: 'act'; readonly plant: string; readonly person: string };

export function inTopic(plant: string, device: string, channel: InChannel): string {
  return `${TOPIC_ROOT}/${plant}/in/${device}/${channel}`;
}

export function backTopic(plant: string, device: string, channel: BackChannel): string {
  return `${TOPIC_ROOT}/${plant}/back/${device}/${channel}`;
}

export function outTopic(plant: string, subjectKind: SubjectKind, id: string, channel: OutChannel): string {
  return `${TOPIC_ROOT}/${plant}/out/${subjectKind}/${id}/${channel}`;
}

export function actTopic(plant: string, person: string): string {
  return `${TOPIC_ROOT}/${plant}/act/${person}`;
}

/** The type of what stands retained on the plant's own status. */
export const PLANT_STATUS_TYPE = 'counterpoise.plant.status.v1';

/** The type of what a bench is told of its result; here, so that who only tells it needs no validator. */
export const BALANCE_ANSWER_TYPE = 'counterpoise.balance.answer.v1';

/** Reads a topic; undefined when it is not one of ours. */
export function parseTopic(topic: string): Topic | undefined {
  if (topic.length > TOPIC_BYTES_MAX) return undefined;
  const levels = topic.split('/');
  const [root, version, plant, direction, name, last, extra] = levels;
  if (`${root}/${version}` !== TOPIC_ROOT || plant === undefined || !isId(plant)) return undefined;
  if (name === undefined || levels.length > TOPIC_LEVELS_MAX) return undefined;
  switch (direction) {
    case 'in':
      return isId(name) && levels.length === 6 && isOneOf(IN_CHANNELS, last)
        ? { direction, plant, device: name, channel: last }
        : undefined;
    case 'back':
      return isId(name) && levels.length === 6 && isOneOf(BACK_CHANNELS, last)
        ? { direction, plant, device: name, channel: last }
        : undefined;
    case 'out':
      return isOneOf(SUBJECT_KINDS, name) &&
        levels.length === 7 &&
        last !== undefined &&
        isId(last) &&
        isOneOf(OUT_CHANNELS, extra)
        ? { direction, plant, subjectKind: name, id: last, channel: extra }
        : undefined;
    case 'act':
      return isId(name) && levels.length === 5 ? { direction, plant, person: name } : undefined;
    case undefined:
    default:
      return undefined;
  }
}

function isOneOf<T extends string>(list: readonly T[], word: string | undefined): word is T {
  return word !== undefined && (list as readonly string[]).includes(word);
}
