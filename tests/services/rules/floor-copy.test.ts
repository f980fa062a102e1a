// A copy of the floor does not change when the floor goes on, and lacks nothing.
import fc from 'fast-check';
import { test } from 'vitest';
import { copyOfFloor, emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';
import { histories, live } from './histories.ts';
import { expectSameFloor } from './same-floor.ts';

test('whatever comes after the copy changes the floor only', () => {
  fc.assert(
    fc.property(histories, fc.nat(100), (history, cut) => {
      const { steps } = live(history);
      let floor = emptyFloor('test');
      let copy: Floor | undefined;
      let whole: Floor | undefined;
      steps.forEach(({ entry, outcomes }, index) => {
        if (index === cut) {
          copy = copyOfFloor(floor);
          whole = structuredClone(floor);
        }
        floor = evolve(floor, entry, outcomes);
      });
      expectSameFloor(copy, whole);
    }),
    { numRuns: 150 },
  );
});
