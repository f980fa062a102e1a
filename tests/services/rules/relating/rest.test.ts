// What is beside the 1×: it tells of a bearing and a sensor as far as it is known beside the 1× itself.
import { expect, test } from 'vitest';
import type { Level } from '../../../../services/rules/relating/guesses.ts';
import { newGuesses } from '../../../../services/rules/relating/guesses.ts';
import { learnLoad } from '../../../../services/rules/relating/learn-load.ts';
import { restOff, restRatios } from '../../../../services/rules/relating/rest.ts';
import { loadsOf, toldOf, UNKEYED } from './simulated-spindle.ts';

const LEVEL = { restMean: Math.log(0.4), restLoads: 20 } as Level;

/** A load with that 1× and that beside it, mm/s RMS, as its sensor tells it. */
function offWith(onceMmS: number, restMmS: number) {
  const [mark] = loadsOf(UNKEYED)();
  if (mark === undefined) throw new Error('a load has a mark');
  return restOff([LEVEL], toldOf([{ ...mark, square: onceMmS ** 2, restSquare: restMmS ** 2 }]));
}

test('beside a small 1× a rest that has doubled speaks for a bearing', () => {
  const ratio = restRatios(newGuesses(), offWith(0.5, 0.8));
  expect(ratio(Math.LN2, 0)).toBeGreaterThan(100);
});

test('beside a 1× of 11 mm/s a rest of twice 0.4 mm/s may be what the steps of both leave, and says next to nothing', () => {
  const ratio = restRatios(newGuesses(), offWith(11, 0.8));
  for (const shift of [0.25, 0.5, 0.9, 1.4]) {
    expect(ratio(shift, 0)).toBeGreaterThan(0.5);
    expect(ratio(shift, 0)).toBeLessThan(3);
  }
});

test('what is far more than they leave speaks all the same', () => {
  const ratio = restRatios(newGuesses(), offWith(11, 4));
  expect(ratio(Math.log(10), 0)).toBeGreaterThan(100);
});

test('a rest that the two squares leave nothing of is none', () => {
  const [mark] = loadsOf(UNKEYED)();
  if (mark === undefined) throw new Error('a load has a mark');
  const told = toldOf([{ ...mark, restSquare: -0.3 }]);
  expect(told.speeds[0]?.restLn).toBeCloseTo(Math.log(0.01), 9);
});

test('a first load that tells nothing of it does not stay in what is usual', () => {
  const guesses = newGuesses();
  const next = loadsOf(UNKEYED);
  const learn = (once: number, rest: number): void => {
    const [mark] = next();
    if (mark === undefined) throw new Error('a load has a mark');
    learnLoad(guesses, toldOf([{ ...mark, square: once ** 2, restSquare: rest ** 2 }]));
  };
  learn(9, 0);
  for (let nth = 0; nth < 8; nth += 1) learn(0.5, 0.2);
  expect(Math.exp(guesses.levels[0]?.restMean ?? 0)).toBeCloseTo(0.2, 2);
});
