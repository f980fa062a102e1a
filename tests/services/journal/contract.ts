// What every store must do; sqlite.test.ts, postgres.test.ts and memory.test.ts run it.
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { JournalClosed, type Journal } from '../../../services/journal/index.ts';
import { checkOnce } from './contract-once.ts';
import { checkOpenedAgain } from './contract-opened-again.ts';
import { checkOrder, checkRules } from './contract-order.ts';
import { checkReading } from './contract-reading.ts';
import { checkRejected, checkSnapshots } from './contract-rejected.ts';
import { checkWaves } from './contract-waves.ts';
import { append, tick } from './samples.ts';

/** A journal of a test's own. */
export interface Place {
  open(): Promise<Journal>;
  remove(): Promise<void>;
}

/** The journal of the test that runs, opened anew for each. */
export interface Bench {
  readonly journal: Journal;
  /** Closes it and opens it again. */
  reopen(): Promise<void>;
  /** Opens it once more. */
  open(): Promise<Journal>;
}

export interface ContractOptions {
  /** Whether what was written is there again when the journal is opened again; a journal in memory goes with its closing. */
  readonly lasting: boolean;
}

export function checkContract(name: string, { lasting }: ContractOptions, newPlace: () => Promise<Place>): void {
  describe(`${name}: the contract of a journal`, () => {
    let place: Place;
    let journal: Journal;

    beforeEach(async () => {
      place = await newPlace();
      journal = await place.open();
    });
    afterEach(async () => {
      await journal.close();
      await place.remove();
    });

    const bench: Bench = {
      get journal() {
        return journal;
      },
      open: () => place.open(),
      reopen: async () => {
        await journal.close();
        journal = await place.open();
      },
    };

    checkOrder(bench);
    checkRules(bench);
    checkOnce(bench);
    checkRejected(bench);
    checkSnapshots(bench);
    checkReading(bench);
    checkWaves(bench, lasting);
    if (lasting) checkOpenedAgain(bench);

    test('closed: appends are refused, closing again is harmless', async () => {
      await journal.close();
      await expect(append(journal, tick(1))).rejects.toThrow(JournalClosed);
      await journal.close();
    });
  });
}
