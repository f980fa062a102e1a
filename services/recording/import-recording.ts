// A recording into a journal that nothing else is writing: what an export took out, or a plant's history before it is connected.
import { randomUUID } from 'node:crypto';
import { openKeeper } from '../holds/index.ts';
import { createIntake } from '../intake/index.ts';
import { openJournal, type JournalSettings } from '../journal/index.ts';
import { LinePlayer, Plant } from '../plant/index.ts';
import type { Lines } from './rehearse.ts';

export interface Imported {
  readonly lines: number;
  readonly faults: number;
  /** Of the journal, afterwards. */
  readonly position: number;
}

export interface ImportSettings {
  readonly plant: string;
  readonly journal: JournalSettings;
  readonly fault: (line: number, why: string) => void;
}

/** What was imported before is not imported again, line by line: an import that broke off is done again, or with more lines. */
export async function importRecording(lines: Lines, settings: ImportSettings): Promise<Imported> {
  const { plant: id } = settings;
  const journal = await openJournal(settings.journal);
  try {
    const keeper = await openKeeper({ journal, plant: id, zone: 'UTC', invented: false });
    const intake = createIntake({ plant: id, boot: randomUUID().slice(0, 8) });
    for (const { device, ...born } of keeper.births()) intake.born(device, born);
    const plant = new Plant({ plant: id, journal, keeper, intake, clock: { now: Date.now }, freshId: randomUUID });
    let faults = 0;
    const fault = (line: number, why: string): void => {
      faults += 1;
      settings.fault(line, why);
    };
    const { at: onceAfter } = await journal.head();
    const player = new LinePlayer(plant, { tickMs: 0, exact: false, onceAfter, fault });
    for await (const piece of lines) await player.take(typeof piece === 'string' ? [piece] : piece);
    await player.flush();
    const { position } = await journal.head();
    // So that the first start does not have to fold all of it.
    await journal.saveSnapshot(await keeper.snapshot());
    return { lines: player.lines, faults, position };
  } finally {
    await journal.close();
  }
}
