// Columns say of every reading what its object says, in order, and where in the journal an instant lies.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Entry } from '../../../shared/entries.ts';
import { NOT_COMPARABLE_REASONS } from '../../../shared/outcomes.ts';
import { NO_FEATURES, openJournal, reasonCode } from '../../../services/journal/index.ts';
import { entryAsKept } from '../../../services/journal/as-kept.ts';
import { encodeEntries } from '../../../services/journal/block.ts';
import { encodeOutcomes } from '../../../services/journal/outcomes.ts';
import { columnsOf, positionFrom } from '../../../services/journal/reading-columns.ts';
import { anyDraft, anyOutcomes } from './arbitraries.ts';

const FIRST = 1001;

test.each(['fast', 'dense'] as const)('the columns of a block written %s say what its entries say', (effort) => {
  fc.assert(
    fc.property(fc.array(anyDraft, { minLength: 1, maxLength: 60 }), (drafts) => {
      let at = 0;
      const entries = drafts.map((draft, i) => entryAsKept(draft, FIRST + i, (at = Math.max(at, draft.at))));
      const origins = entries.map(() => undefined);
      const block = encodeEntries({ entries, origins }, effort);
      const row = { first: FIRST, count: entries.length, atFirst: 0, atLast: at, entries: block, outcomes: undefined };
      const { ats, summaries, others, reasons } = columnsOf(row);
      expect([...ats]).toEqual(entries.map((entry) => entry.at));
      expect(others).toStrictEqual(entries.filter(({ kind }) => kind !== 'summary' && kind !== 'machine'));
      const told = Array.from({ length: summaries.count }, (_, i) => {
        const stream = summaries.streams[summaries.streamOf[i] ?? 0];
        const time = summaries.times[i] ?? 0;
        return {
          position: FIRST + (summaries.places[i] ?? 0),
          device: stream?.device,
          spindleId: stream?.spindleId,
          time: Number.isNaN(time) ? undefined : time,
          speedRpm: summaries.speedRpm[i],
          overallMmS: summaries.overallMmS[i],
          synchronousMmS: summaries.synchronousMmS[i],
        };
      });
      expect(told).toEqual(entries.flatMap(said));
      expect(reasons.every((reason) => reason === NO_FEATURES)).toBe(true);
    }),
    { numRuns: 300 },
  );
});

function said(entry: Entry): object[] {
  if (entry.kind !== 'summary') return [];
  const { position, device, time, data } = entry;
  const { spindleId, speedRpm, overallMmS, synchronousMmS } = data;
  return [{ position, device, spindleId, time, speedRpm, overallMmS, synchronousMmS }];
}

const entries = Array.from({ length: 40 }, (_, i) => entryAsKept({ at: i, kind: 'tick' }, FIRST + i, i));

test('why each reading cannot be compared stands at its place, all other outcomes beside', () => {
  fc.assert(
    fc.property(anyOutcomes(entries), (outcomes) => {
      const block = encodeEntries({ entries, origins: entries.map(() => undefined) }, 'fast');
      const made = encodeOutcomes(outcomes, FIRST);
      const row = { first: FIRST, count: 40, atFirst: 0, atLast: 39, entries: block, outcomes: made };
      const columns = columnsOf(row);
      expect(columns.outcomes).toEqual(outcomes.filter(({ kind }) => kind !== 'reading-features'));
      const last = new Map(
        outcomes.flatMap((one) =>
          one.kind !== 'reading-features'
            ? []
            : [
                [
                  one.cause - FIRST,
                  one.features.notComparable === undefined ? 0 : reasonCode(one.features.notComparable),
                ],
              ],
        ),
      );
      expect([...columns.reasons]).toEqual(entries.map((_, place) => last.get(place) ?? NO_FEATURES));
    }),
    { numRuns: 200 },
  );
  expect(NOT_COMPARABLE_REASONS.length).toBeLessThan(NO_FEATURES);
});

test('an instant lies at the first entry that arrived then or later', async () => {
  const steps = fc.array(fc.record({ wait: fc.nat(3), count: fc.integer({ min: 1, max: 4 }) }), { maxLength: 12 });
  await fc.assert(
    fc.asyncProperty(steps, fc.nat(40), async (commits, instant) => {
      const journal = await openJournal({ store: 'memory' });
      const ats: number[] = [];
      let at = 1;
      for (const { wait, count } of commits) {
        const arrivals = Array.from({ length: count }, () => {
          at += wait;
          ats.push(at);
          return { draft: { kind: 'tick', at } as const };
        });
        await journal.append(arrivals, () => []);
      }
      const found = ats.findIndex((one) => one >= instant);
      expect(await journal.positionFrom(instant)).toBe(found < 0 ? ats.length + 1 : found + 1);
      await journal.close();
    }),
  );
  expect(await positionFrom(() => [], 0, 5)).toBe(1);
});
