// Who travelled with whom about a hold: the loads that led to it stand out, whichever spindle they ran in, though nothing is learned from them.
import { expect, test } from 'vitest';
import type { Hold } from '../../../shared/holds.ts';
import { travelsView } from '../../../services/holds/views/travels-view.ts';
import type { Floor } from '../../../services/rules/index.ts';
import { LEARNED, MOVED } from '../rules/learned-story.ts';
import { play } from '../rules/play.ts';

/** Observed ÷ expected of each pair; the residual is that of the build. */
function ratios(floor: Floor, hold: Hold | undefined): Readonly<Record<string, number>> {
  const cells = hold === undefined ? [] : (travelsView(floor, hold)?.cells ?? []);
  return Object.fromEntries(
    cells
      .map(({ assemblyId, spindleId, observedMmS, expectedMmS = NaN }): [string, number] => [
        `${assemblyId} ${spindleId}`,
        observedMmS / expectedMmS,
      ])
      .toSorted(([a], [b]) => (a < b ? -1 : 1)),
  );
}

const usual: unknown = expect.closeTo(1, 0.4);
const above = (least: number): unknown => expect.toSatisfy((ratio: number) => ratio > least, `above ${least}`);

test('a load far off stands out in its pair, and no other pair does', () => {
  const { floor } = play(`${LEARNED}
    day 2 06:00 load    A-1 in S-1 at 18000 rpm
    day 2 06:02 reading S-1 overall 1.59 1x 1.43 ×6 every 3 min => hold S-1 vibration-unexplained => hold S-1 synchronous-over-limit => released S-1 vibration-unexplained`);
  const [before, hold] = floor.holds.values();
  expect(before?.reason).toBe('vibration-unexplained');
  expect(ratios(floor, hold)).toEqual({
    'A-1 S-1': above(2),
    ...Object.fromEntries(['A-1 S-2', 'A-2 S-1', 'A-2 S-2', 'A-3 S-1', 'A-3 S-2'].map((pair) => [pair, usual])),
  });
});

test('and it goes on standing out while it runs on under its hold, at a speed of which nothing is known as well', () => {
  const { floor } = play(`${LEARNED}
    day 2 06:00 load    A-1 in S-1 at 18000 rpm
    day 2 06:02 reading S-1 overall 1.59 1x 1.43 ×6 every 3 min => hold S-1 vibration-unexplained => hold S-1 synchronous-over-limit => released S-1 vibration-unexplained
    day 2 06:30 reading S-1 overall 1.59 1x 1.43 at 9000 rpm ×60 every 20 s`);
  const [, hold] = floor.holds.values();
  expect(ratios(floor, hold)).toMatchObject({ 'A-1 S-1': above(2), 'A-2 S-1': usual });
});

test('named after a run elsewhere: both loads stand out, and the load that was weighed last is taken for its own pair', () => {
  const { floor } = play(MOVED);
  const [first, second] = floor.holds.values();
  expect(second?.subject).toEqual({ kind: 'assembly', id: 'A-1' });
  expect(second?.findings?.at(-1)?.observedMmS).toBeCloseTo(0.6, 2);
  const expected = { 'A-1 S-1': above(4), 'A-1 S-2': above(4), 'A-2 S-1': usual };
  expect(ratios(floor, second)).toMatchObject(expected);
  expect(ratios(floor, first)).toMatchObject({ 'A-1 S-1': above(4), 'A-2 S-1': usual });
  const cell = (second && travelsView(floor, second))?.cells.find(({ spindleId }) => spindleId === 'S-2');
  expect(cell?.residualGmm).toBe(1);
});

test('after it has ended the load that raised it still stands out', () => {
  const { floor } = play(`${MOVED}
    day 2 08:00 result  A-1 1 g·mm                      => released A-1 vibration-unexplained
    day 2 08:10 load    A-3 in S-1 at 18000 rpm
    day 2 08:12 reading S-1 overall 1.10 1x 0.85 ×6 every 3 min`);
  const [, second] = floor.holds.values();
  expect(ratios(floor, second)).toMatchObject({ 'A-1 S-1': above(4), 'A-2 S-1': usual });
});
