// A plant as the service runs it, over a journal in memory and with a clock of its own: for recordings made and played.
import { expect } from 'vitest';
import { openKeeper, type Keeper } from '../../../services/holds/index.ts';
import { createIntake, type Binding } from '../../../services/intake/index.ts';
import { openJournal, type Journal, type JournalSettings } from '../../../services/journal/index.ts';
import { Plant } from '../../../services/plant/index.ts';
import { exportLines, rehearse, type RehearsalReport } from '../../../services/recording/index.ts';
import type { Entry } from '../../../shared/entries.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import type { Instant } from '../../../shared/time.ts';

export const PLANT = 'p1';
export const START: Instant = Date.UTC(2026, 10, 24, 6);

export class RunningPlant {
  readonly journal: Journal;
  plant: Plant;
  keeper: Keeper;
  now = START;
  #acts = 0;
  #starts = 0;
  #bindings: Readonly<Record<string, Binding>>;

  private constructor(journal: Journal, keeper: Keeper, bindings: Readonly<Record<string, Binding>>) {
    this.journal = journal;
    this.keeper = keeper;
    this.#bindings = bindings;
    this.plant = this.#compose();
  }

  static async open(
    bindings: Readonly<Record<string, Binding>> = {},
    settings: JournalSettings = { store: 'memory' },
  ): Promise<RunningPlant> {
    const journal = await openJournal(settings);
    return new RunningPlant(journal, await keeperOver(journal), bindings);
  }

  /** The journal stays, all else is made anew. */
  async restart(): Promise<void> {
    this.keeper = await keeperOver(this.journal);
    this.plant = this.#compose();
  }

  /** With other enrolments. */
  restartWith(bindings: Readonly<Record<string, Binding>>): Promise<void> {
    this.#bindings = bindings;
    return this.restart();
  }

  async lines(): Promise<string[]> {
    const lines: string[] = [];
    for await (const line of exportLines(this.journal, PLANT)) lines.push(JSON.stringify(line));
    return lines;
  }

  #compose(): Plant {
    const intake = createIntake({ plant: PLANT, boot: `start-${(this.#starts += 1)}` });
    for (const { device, ...born } of this.keeper.births()) intake.born(device, born);
    for (const [device, binding] of Object.entries(this.#bindings)) intake.enrol(device, binding);
    return new Plant({
      plant: PLANT,
      journal: this.journal,
      keeper: this.keeper,
      intake,
      clock: { now: () => this.now },
      freshId: () => `fresh-${(this.#acts += 1)}`,
    });
  }
}

function keeperOver(journal: Journal): Promise<Keeper> {
  return openKeeper({ journal, plant: PLANT, zone: 'UTC', invented: false });
}

export async function* eachOf(lines: readonly string[]): AsyncGenerator<readonly string[]> {
  yield lines;
}

export async function contentOf(journal: Pick<Journal, 'read'>): Promise<{ entries: Entry[]; outcomes: Outcome[] }> {
  const entries: Entry[] = [];
  const outcomes: Outcome[] = [];
  for await (const stretch of journal.read(1)) {
    entries.push(...stretch.entries);
    outcomes.push(...stretch.outcomes);
  }
  return { entries, outcomes };
}

/** The export of what ran, rehearsed, is what ran: each entry, each outcome, each hold, and its own export. */
export async function expectSameRehearsed(ran: RunningPlant): Promise<RehearsalReport> {
  const lines = await ran.lines();
  const journal = await openJournal({ store: 'memory' });
  const faults: unknown[] = [];
  const report = await rehearse(eachOf(lines), {
    journal,
    tickMs: 10_000,
    say: (said) => void (said.kind === 'line-fault' && faults.push(said)),
  });
  expect(faults).toEqual([]);
  expect(await contentOf(journal)).toEqual(await contentOf(ran.journal));
  expect(report.holds).toEqual(ran.keeper.allHolds());
  const again: string[] = [];
  for await (const line of exportLines(journal, PLANT)) again.push(JSON.stringify(line));
  expect(again).toEqual(lines);
  return report;
}
