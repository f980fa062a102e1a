// What is said of cutters' lives: not enough, no effect that can be told, or an effect with its interval.
import { expect, test } from 'vitest';
import { emptyFloor, type CutterLives } from '../../../services/rules/index.ts';
import { cutterLifeViews } from '../../../services/holds/views/tool-life-view.ts';
import { draws } from '../../shared/statistics/invented-courses.ts';

function saidOf(lives: CutterLives['lives']) {
  const floor = emptyFloor('test');
  floor.cutters.set('Mill (invented)', { cutter: 'Mill (invented)', lives, withoutResidual: 1 });
  const [view] = cutterLifeViews(floor);
  if (view === undefined) throw new Error('a view of the one cutter');
  return view;
}

function invented(count: number, slope: number): CutterLives['lives'] {
  const draw = draws(11);
  return Array.from({ length: count }, () => {
    const share = draw();
    const life = 150 * Math.exp(slope * share) * (-Math.log(1 - draw())) ** (1 / 3);
    return { at: 0, minutes: Math.min(life, 160), isEnd: life < 160, share };
  });
}

test('too few ended by themselves: how many more are asked for', () => {
  const lives = [1, 2, 3, 4].map((nth) => ({ at: 0, minutes: 100 + nth, isEnd: nth < 4, share: nth / 4 }));
  expect(saidOf(lives)).toMatchObject({ lives: 4, ended: 3, withoutResidual: 1 });
  expect(saidOf(lives).words).toBe('Not enough data: 3 ended worn or broken, and at least 10 are asked for; 7 more.');
  expect(saidOf(lives).effect).toBeUndefined();
});

test('all with one residual: nothing can be told of another', () => {
  const lives = Array.from({ length: 20 }, (_, nth) => ({ at: 0, minutes: 90 + nth, isEnd: true, share: 0.5 }));
  expect(saidOf(lives).words).toMatch(/nearly one residual/);
});

test('an effect that is there is told with both ends; the interval holds it', () => {
  const { effect, words } = saidOf(invented(180, -0.9));
  expect(words).toMatch(/life is \d+\.\d % shorter \(95 %: \d+\.\d % shorter to \d+\.\d % shorter\)/);
  expect(effect?.low).toBeLessThan(Math.exp(-0.09));
  expect(effect?.high).toBeGreaterThan(Math.exp(-0.09));
});

test('no effect: that is said, with about how many lives would tell one', () => {
  const { words } = saidOf(invented(30, 0));
  expect(words).toMatch(/^No effect can be told: with each tenth/);
  expect(words).toMatch(/more lives would tell it|lives to tell/);
});

test('a change costs the cutter and its time, by the user’s own rates and never without', () => {
  const floor = emptyFloor('test');
  const cutter = 'Mill (invented)';
  floor.cutters.set(cutter, { cutter, lives: [], withoutResidual: 0 });
  expect(cutterLifeViews(floor)[0]?.changeCost).toBeUndefined();
  const source = 'invented';
  const rates = { currency: 'INV', cutters: [{ cutter, amount: 40, source }], by: 'Ada', at: 0, position: 1 };
  floor.rates = rates;
  expect(cutterLifeViews(floor)[0]?.changeCost).toMatchObject({ amount: 40, currency: 'INV' });
  floor.rates = { ...rates, spindleHour: { amount: 90, source }, cutterChange: { minutes: 6, source } };
  expect(cutterLifeViews(floor)[0]?.changeCost).toEqual({
    amount: 49,
    currency: 'INV',
    words: '40 INV (invented) + 6 min (invented) × 90 INV/h (invented)',
  });
});
