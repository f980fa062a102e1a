// Ids of sources without a sequence: the last are known, the oldest are forgotten, and memory stays bounded.
import { expect, test } from 'vitest';
import { RECENT_IDS_PER_SOURCE_MAX, RECENT_IDS_TOTAL_MAX } from '../../../services/journal/limits.ts';
import { RecentIds } from '../../../services/journal/recent-ids.ts';

test('the last half of the window is always known, with where it stands', () => {
  const ids = new RecentIds();
  for (let n = 0; n < 3 * RECENT_IDS_PER_SOURCE_MAX; n += 1) {
    expect(ids.note('q-1', `id-${n}`, n)).toBeUndefined();
    const back = Math.max(0, n - RECENT_IDS_PER_SOURCE_MAX / 2 + 1);
    expect(ids.note('q-1', `id-${back}`, -1)).toBe(back);
  }
  expect(ids.note('q-1', 'id-0', 7)).toBeUndefined();
});

test('many sources share the memory', () => {
  const ids = new RecentIds();
  const sources = 1000;
  const share = RECENT_IDS_TOTAL_MAX / sources;
  for (let n = 0; n < share; n += 1)
    for (let source = 0; source < sources; source += 1) ids.note(`s-${source}`, `${n}`, n);
  expect(ids.note('s-0', `${share - 1}`, 0)).toBe(share - 1);
  ids.note('s-0', 'new', 1);
  expect(ids.note('s-0', '0', 2)).toBeUndefined();
});
