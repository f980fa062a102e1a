// A journal as recorded lines: every entry one line, so that a rehearsal of the export gives the same positions and holds.
import { ACT_TYPES } from '../../shared/acts.ts';
import type { ActEntry, DeviceEntry, Entry, Position } from '../../shared/entries.ts';
import { deviceSource, personSource } from '../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../shared/messages/index.ts';
import { RETRIED_TYPE, ROLES_ATTRIBUTE, SERVICE_NAME, TICK_TYPE, type RecordedLine } from '../../shared/recording.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { actTopic, inTopic } from '../../shared/topics.ts';
import type { Journal } from '../journal/index.ts';

export async function* exportLines(
  journal: Pick<Journal, 'read' | 'rejectedAt'>,
  plant: string,
  from: Position = 1,
  to?: Position,
): AsyncGenerator<RecordedLine> {
  for await (const stretch of journal.read(from, to)) {
    for (const entry of stretch.entries) {
      if (entry.position < from || (to !== undefined && entry.position > to)) continue;
      yield await lineOf(journal, plant, entry);
    }
  }
}

async function lineOf(journal: Pick<Journal, 'rejectedAt'>, plant: string, entry: Entry): Promise<RecordedLine> {
  const at = rfc3339Of(entry.at);
  switch (entry.kind) {
    case 'tick':
      return serviceLine(plant, entry, TICK_TYPE, {});
    case 'retried':
      return serviceLine(plant, entry, RETRIED_TYPE, { rejected: entry.rejected, by: entry.actor.name });
    case 'rejected': {
      const row = await journal.rejectedAt(entry.position);
      const topic = row?.topic ?? `${entry.device}/${entry.channel}`;
      return { topic, at, base64: Buffer.from(row?.bytes ?? []).toString('base64') };
    }
    case 'hold-act':
    case 'spindle-declared':
    case 'notice-try':
      return actLine(plant, entry);
    case 'birth':
    case 'state':
    case 'build':
    case 'result':
    case 'proof':
    case 'summary':
    case 'wave':
    case 'machine':
    case 'load':
    case 'life':
    case 'query':
      return deviceLine(plant, entry);
  }
}

function deviceLine(plant: string, entry: DeviceEntry): RecordedLine {
  const { kind, device, id, time, bootId, sequence, data } = entry;
  return {
    topic: inTopic(plant, device, kind),
    at: rfc3339Of(entry.at),
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

function actLine(plant: string, entry: ActEntry): RecordedLine {
  const { kind, id, actor, data } = entry;
  return {
    topic: actTopic(plant, actor.name),
    at: rfc3339Of(entry.at),
    envelope: {
      specversion: '1.0',
      id,
      source: personSource(plant, actor.name),
      type: ACT_TYPES[kind],
      [ROLES_ATTRIBUTE]: actor.roles.join(' '),
      data,
    },
  };
}

function serviceLine(plant: string, entry: Entry, type: string, data: Record<string, unknown>): RecordedLine {
  const envelope = {
    specversion: '1.0',
    id: `service-${entry.position}`,
    source: personSource(plant, SERVICE_NAME),
    type,
    data,
  };
  return { topic: actTopic(plant, SERVICE_NAME), at: rfc3339Of(entry.at), envelope };
}
