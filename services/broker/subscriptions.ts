// What a device may read: a closed list of topic filters, in one place for granting them and for finding them again.
import { isId, SUBJECT_KINDS } from '../../shared/ids.ts';
import { BACK_CHANNELS, outTopic, TOPIC_ROOT } from '../../shared/topics.ts';
import type { Credential } from './ports.ts';

/** The retained states of a subject; `event` is for people's screens. */
const READ_CHANNELS: readonly string[] = ['hold', 'gate', 'status'];
/** The plant's own status is everybody's and needs no binding. */
const READ_KINDS = SUBJECT_KINDS.filter((kind) => kind !== 'plant') as readonly string[];
const ALL = '*';

/** `own back/#`, the plant's status, and for machines and readers the states of the subjects they are bound to. */
export function maySubscribe(plant: string, credential: Credential, filter: string): boolean {
  if (filter === outTopic(plant, 'plant', plant, 'status')) return true;
  const back = `${TOPIC_ROOT}/${plant}/back/${credential.device}/`;
  if (filter.startsWith(back)) {
    const channel = filter.slice(back.length);
    return channel === '#' || channel === '+' || (BACK_CHANNELS as readonly string[]).includes(channel);
  }
  return readsSubjects(credential) && isServed(plant, credential.serves, filter);
}

function readsSubjects(credential: Credential): boolean {
  return credential.kind === 'reader' || credential.kind === 'machine';
}

function isServed(plant: string, serves: readonly string[], filter: string): boolean {
  const out = `${TOPIC_ROOT}/${plant}/out/`;
  if (!filter.startsWith(out)) return false;
  const [kind, id, channel, ...more] = filter.slice(out.length).split('/');
  if (more.length > 0 || kind === undefined || id === undefined || channel === undefined) return false;
  if (!READ_KINDS.includes(kind) || !READ_CHANNELS.includes(channel)) return false;
  if (serves.includes(ALL)) return id === '+' || isId(id);
  return isId(id) && serves.includes(id);
}

/** Every filter that may have been granted and matches this topic. */
export function filtersOf(topic: string): readonly string[] {
  const last = topic.lastIndexOf('/');
  const parent = topic.slice(0, last);
  if (parent.indexOf('/out/') < 0) return [topic, `${parent}/#`, `${parent}/+`];
  const channel = topic.slice(last);
  return [topic, `${parent.slice(0, parent.lastIndexOf('/'))}/+${channel}`];
}
