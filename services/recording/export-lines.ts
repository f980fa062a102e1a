// A journal as recorded lines: every entry one line, so that a rehearsal of the export gives the same positions and holds.
import { ACT_TYPES, type Actor } from '../../shared/acts.ts';
import type { DeviceEntry, Entry, EntryOf, Position, RejectedEntry, WaveKept } from '../../shared/entries.ts';
import { deviceSource, personSource } from '../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../shared/messages/index.ts';
import {
  ANALYSED_TYPE,
  CHAIN_TYPE,
  MADE_OF_WAVE,
  RETRIED_TYPE,
  ROLES_ATTRIBUTE,
  SERVICE_NAME,
  TICK_TYPE,
  type RecordedLine,
} from '../../shared/recording.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { actTopic, inTopic } from '../../shared/topics.ts';
import type { Journal, Link, RejectedBytes, RejectedRow } from '../journal/index.ts';
import { unpackCounts } from '../packing/index.ts';

type ExportedJournal = Pick<Journal, 'read' | 'rejectedAt' | 'waveAt' | 'lastLink'>;

export async function* exportLines(
  journal: ExportedJournal,
  plant: string,
  from: Position = 1,
  to?: Position,
): AsyncGenerator<RecordedLine> {
  const link = await journal.lastLink();
  let last: Entry | undefined;
  for await (const stretch of journal.read(from, to)) {
    for (const entry of stretch.entries) {
      if (entry.position < from || (to !== undefined && entry.position > to)) continue;
      last = entry;
      yield await lineOf(journal, plant, entry);
    }
  }
  if (last !== undefined && link.position >= from && link.position <= last.position) yield chainLine(plant, last, link);
}

function chainLine(plant: string, { at, position }: Entry, link: Link): RecordedLine {
  const data = { position: link.position, hash: Buffer.from(link.hash).toString('hex') };
  return personLine(plant, { at, position }, SERVICE, { type: CHAIN_TYPE, id: `chain-${link.position}`, data });
}

async function lineOf(journal: ExportedJournal, plant: string, entry: Entry): Promise<RecordedLine> {
  switch (entry.kind) {
    case 'tick':
      return personLine(plant, entry, SERVICE, { type: TICK_TYPE, id: `tick-${entry.position}`, data: {} });
    case 'retried': {
      const { position, rejected, actor } = entry;
      return personLine(plant, entry, actor, { type: RETRIED_TYPE, id: `retried-${position}`, data: { rejected } });
    }
    case 'analysed': {
      const { kind: _kind, at: _at, position: _position, ...data } = entry;
      return personLine(plant, entry, SERVICE, { type: ANALYSED_TYPE, id: `${MADE_OF_WAVE}${entry.wave}`, data });
    }
    case 'wave':
      return deviceLine(plant, { ...entry, data: await withSamples(journal, entry) });
    case 'rejected':
      return rejectedLine(entry, await journal.rejectedAt(entry.position));
    case 'hold-act':
    case 'spindle-declared':
    case 'notice-try':
    case 'correction-recorded':
    case 'doubt-lifted':
    case 'reference-declared':
    case 'rates-declared':
    case 'ask-wave':
    case 'work-planned':
    case 'answering-declared':
    case 'rules-declared':
      return personLine(plant, entry, entry.actor, { type: ACT_TYPES[entry.kind], id: entry.id, data: entry.data });
    case 'birth':
    case 'state':
    case 'build':
    case 'result':
    case 'correction':
    case 'proof':
    case 'test':
    case 'summary':
    case 'machine':
    case 'load':
    case 'life':
    case 'query':
      return deviceLine(plant, entry);
  }
}

function deviceLine(plant: string, entry: DeviceEntry): RecordedLine {
  const { kind, device, id, time, bootId, sequence, data, position, at } = entry;
  return {
    topic: inTopic(plant, device, kind),
    at: rfc3339Of(at),
    position,
    envelope: {
      specversion: '1.0',
      id,
      source: deviceSource(plant, device),
      type: MESSAGE_TYPES[kind],
      ...(time === undefined ? {} : { time: rfc3339Of(time) }),
      ...(bootId === undefined ? {} : { bootid: bootId }),
      ...(sequence === undefined ? {} : { sequence: String(sequence) }),
      data,
    },
  };
}

/** As long as they are kept; a window without them says how many there were. */
async function withSamples(journal: ExportedJournal, { position, data }: EntryOf<'wave'>): Promise<WaveKept> {
  const row = data.samples === undefined ? await journal.waveAt(position) : undefined;
  if (row?.body === undefined) return data;
  const counts = row.packing === 'packed' ? unpackCounts(row.body, data.encoding) : row.body;
  const samples = Buffer.from(counts.buffer, counts.byteOffset, counts.length).toString('base64');
  return { ...data, samples };
}

const SERVICE: Actor = { name: SERVICE_NAME, roles: ['service'] };

function personLine(
  plant: string,
  { at, position }: Pick<Entry, 'at' | 'position'>,
  { name, roles }: Actor,
  said: { readonly type: string; readonly id: string; readonly data: unknown },
): RecordedLine {
  const { type, id, data } = said;
  const source = personSource(plant, name);
  const envelope = { specversion: '1.0', id, source, type, [ROLES_ATTRIBUTE]: roles.join(' '), data };
  return { topic: actTopic(plant, name), at: rfc3339Of(at), position, envelope };
}

/** With the reason: what a credential forbade is nothing that its bytes tell. */
function rejectedLine({ at, position, device, channel, problem }: RejectedEntry, row?: RejectedRow): RecordedLine {
  const lost: RejectedBytes = {
    topic: `${device}/${channel}`,
    problem: { type: problem, title: problem },
    bytes: NONE,
  };
  const { topic, problem: why, bytes } = row ?? lost;
  return { topic, at: rfc3339Of(at), position, base64: Buffer.from(bytes).toString('base64'), problem: why };
}

const NONE = new Uint8Array();
