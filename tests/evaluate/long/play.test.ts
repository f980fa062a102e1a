// A long scenario straight through the rules, and the same as messages through intake and journal: the same is told.
import { expect, test } from 'vitest';
import { openJournal } from '../../../services/journal/index.ts';
import { exportLines, rehearse, type Rehearsed } from '../../../services/recording/index.ts';
import type { Draft } from '../../../shared/entries.ts';
import { LongScenario } from '../../../simulators/index.ts';
import { play } from './play.ts';

const DAYS = 2;
const DRAFTS_A_COMMIT = 500;
/** Tuning seeds of different plants: with limits and without, by day and round the clock. */
const SEEDS = [3, 7];

test.each(SEEDS)('seed %i: what is told is the same through intake and journal', async (seed) => {
  const drafts: Draft[] = [];
  const told: string[] = [];
  const scenario = new LongScenario(seed, DAYS);
  const played = play(scenario, (entry, outcomes) => {
    const { position: _position, ...draft } = entry;
    drafts.push(draft);
    for (const outcome of outcomes) if (outcome.kind !== 'reading-features') told.push(JSON.stringify(outcome));
  });
  expect(played.failures).toEqual([]);

  const journal = await openJournal({ store: 'memory' });
  for (let first = 0; first < drafts.length; first += DRAFTS_A_COMMIT) {
    await journal.append(
      drafts.slice(first, first + DRAFTS_A_COMMIT).map((draft) => ({ draft })),
      () => [],
    );
  }
  const said: string[] = [];
  async function* lines(): AsyncGenerator<string> {
    for await (const line of exportLines(journal, scenario.plantId)) yield JSON.stringify(line);
  }
  const report = await rehearse(lines(), {
    plant: scenario.plantId,
    tickMs: 0,
    say: (one: Rehearsed) => {
      if (one.kind === 'line-fault' || one.kind === 'rejected') return void said.push(JSON.stringify(one));
      const { at: _at, ...outcome } = one;
      said.push(JSON.stringify(outcome));
    },
  });
  await journal.close();
  expect(report.rejected + report.faults + report.duplicates).toBe(0);
  expect(report.position).toBe(played.entries);
  expect(said).toEqual(told);
});

test('the same seed is the same plant to the last digit, another one is another', () => {
  const first = entriesOf(11);
  expect(entriesOf(11)).toEqual(first);
  expect(entriesOf(12)).not.toEqual(first);
});

function entriesOf(seed: number): string[] {
  const lines: string[] = [];
  play(new LongScenario(seed, 1), (entry) => void lines.push(JSON.stringify(entry)));
  return lines;
}
