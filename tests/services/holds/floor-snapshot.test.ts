// A floor written down in pieces and read again is the same floor.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { floorFromBytes, floorToBytes } from '../../../services/holds/floor-snapshot.ts';
import { emptyFloor, type Floor } from '../../../services/rules/index.ts';
import { histories, live } from '../rules/histories.ts';

test('nothing is lost and nothing is added', async () => {
  await fc.assert(
    fc.asyncProperty(histories, async (history) => {
      const { floor } = live(history);
      expect(floorFromBytes(await floorToBytes(floor))).toStrictEqual(floor);
    }),
    { numRuns: 50 },
  );
});

function manySpindles(): Floor {
  const floor = emptyFloor('p1');
  const [history] = fc.sample(histories, { numRuns: 1, seed: 7 });
  const [spindle] = history === undefined ? [] : live(history).floor.spindles.values();
  if (spindle === undefined) throw new Error('no spindle in the history');
  for (let index = 0; index < 1000; index += 1) floor.spindles.set(`S-${index}`, spindle);
  return floor;
}

test('a map of many entries keeps all of them, in their order', async () => {
  const floor = manySpindles();
  const again = floorFromBytes(await floorToBytes(floor));
  expect(again).toStrictEqual(floor);
  expect([...again.spindles.keys()]).toEqual([...floor.spindles.keys()]);
});

test('messages are taken while it is written', async () => {
  const floor = manySpindles();
  let turns = 0;
  let done = false;
  const count = (): void => {
    turns += 1;
    if (!done) setImmediate(count);
  };
  setImmediate(count);
  await floorToBytes(floor);
  done = true;
  expect(turns).toBeGreaterThan(1000 / 32);
});
