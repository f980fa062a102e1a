// Try-outs in their thread: one at a time, given up when asked, an answer kept, and what fails said.
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { TryOuts as TryOutsOf } from '../../../services/try-out/index.ts';
import { openJournal, type JournalSettings } from '../../../services/journal/index.ts';
import { makeFolder } from '../../environment/folder.ts';
import { waitFor } from '../../environment/wait-for.ts';

const BUILT = new URL('../../../build/services/try-out/index.js', import.meta.url).href;
// A thread is started from what was built.
const { TryOuts } = (await import(BUILT)) as { TryOuts: new (journal: JournalSettings) => TryOutsOf };

const folder = makeFolder('try-outs');
afterAll(() => folder.remove());
const settings = { store: 'sqlite', file: join(folder.path, 'journal.sqlite') } as const;

const limits = [{ quantity: 'overall', fromSpeedRpm: 1, toSpeedRpm: 24_000, limitMmS: 4, source: 'invented' }] as const;
const subject = { spindleId: 'S-1', machine: undefined, cell: undefined, interface: undefined, limits };
const ASKED = { plant: 'p', from: 0, to: 1e15, tried: [{ subject, limits, rows: [] }], before: [] };

const ended = (tryOuts: TryOutsOf, id: string) =>
  waitFor(
    () => `the try-out to end; it is ${tryOuts.view(id)?.state ?? 'gone'}`,
    () => (tryOuts.view(id)?.state === 'running' ? undefined : tryOuts.view(id)),
  );

test('answers from a journal of its own connection; a second one meanwhile is refused', async () => {
  const journal = await openJournal(settings);
  const arrivals = Array.from({ length: 10 }, (_, minute) => ({
    draft: {
      kind: 'summary' as const,
      at: 1000 + minute * 60_000,
      device: 'sensor',
      id: `r-${minute}`,
      data: { spindleId: 'S-1', speedRpm: 9000, overallMmS: 5 + minute / 100 },
    },
  }));
  await journal.append(arrivals, (entries) =>
    entries.map(({ position }) => ({
      cause: position,
      kind: 'reading-features' as const,
      features: { speedBin: 1, loadOrdinal: 0, comparable: false, notComparable: 'nothing-loaded' as const },
    })),
  );
  const tryOuts = new TryOuts(settings);
  const id = tryOuts.start(ASKED)?.id ?? '';
  expect(tryOuts.start(ASKED)).toBeUndefined();
  const view = await ended(tryOuts, id);
  expect(view).toMatchObject({
    state: 'done',
    percent: 100,
    answer: {
      readings: 10,
      readFrom: 1000,
      counts: { both: 0, onlyNow: 0, onlyThen: 1 },
      holds: [{ spindleId: 'S-1', reason: 'overall-over-limit', tried: { position: 5, readings: 5, limitMmS: 4 } }],
    },
  });
  await tryOuts.close();
  await journal.close();
});

test('one that is given up is over at once, and makes room for the next', async () => {
  const tryOuts = new TryOuts(settings);
  const id = tryOuts.start(ASKED)?.id ?? '';
  expect((await tryOuts.cancel(id))?.state).toBe('cancelled');
  const next = tryOuts.start(ASKED)?.id ?? '';
  expect((await ended(tryOuts, next)).state).toBe('done');
  expect(tryOuts.view(id)?.state).toBe('cancelled');
  expect(await tryOuts.cancel(next)).toMatchObject({ state: 'done' });
  await tryOuts.close();
});

test('a journal that cannot be opened is a try-out that failed, with why', async () => {
  const tryOuts = new TryOuts({ store: 'sqlite', file: join(folder.path, 'none.sqlite') });
  const view = await ended(tryOuts, tryOuts.start(ASKED)?.id ?? '');
  expect(view.state).toBe('failed');
  expect(view.why).not.toBe('');
  expect(tryOuts.view('nobody')).toBeUndefined();
  await tryOuts.close();
});
