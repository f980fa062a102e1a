// Where the settings put the journal and the people: the same for the service and for commands beside it.
import { join } from 'node:path';
import type { AccessSettings } from './access/index.ts';
import type { JournalSettings } from './journal/index.ts';
import type { Settings } from './settings.ts';

export function journalSettings({ data, journal }: Settings): JournalSettings {
  return journal === undefined
    ? { store: 'sqlite', file: join(data, 'journal.sqlite') }
    : { store: 'postgres', url: journal };
}

export function accessSettings({ data, journal }: Settings): AccessSettings {
  const postgres = journal === undefined ? {} : { postgres: { url: journal } };
  return { dataDir: data, clock: { now: Date.now }, ...postgres };
}
