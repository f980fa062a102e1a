// Lives against a quantity: the survival package of R on invented lives, how often the interval holds, and what is refused.
import { expect, test } from 'vitest';
import { lifeRegression, type Life } from '../../../shared/statistics/life-regression.ts';
import { askR } from '../../environment/r.ts';
import { draws } from './invented-courses.ts';
import { printed } from './printed.ts';

/** Weibull lives with a share of them cut short by a planned change. */
function invented(seed: number, lives: number, slope: number): Life[] {
  const draw = draws(seed * 131 + 7);
  const shape = 1 + 3 * draw();
  const planned = 60 + 300 * draw();
  return Array.from({ length: lives }, () => {
    const x = 1.2 * draw();
    const life = 150 * Math.exp(slope * x) * (-Math.log(1 - draw())) ** (1 / shape);
    const cut = planned * (0.7 + 0.6 * draw());
    return { time: Math.max(0.1, Math.min(life, cut)), ended: life < cut, x };
  });
}

test('the same as the survival package of R, slope, scale and both ends of the interval', () => {
  const cases = Array.from({ length: 20 }, (_, nth) => invented(nth, 15 + 10 * nth, -0.8 + 0.06 * nth));
  const lines = cases.flatMap((rows, nth) => rows.map(({ time, ended, x }) => `${nth},${time},${Number(ended)},${x}`));
  const said = new Map(
    askR(new URL('life-referee.R', import.meta.url), ['case,time,ended,x', ...lines].join('\n'))
      .trim()
      .split('\n')
      .map((line) => line.split(','))
      .map(([nth = '', name = '', value = '']) => [`${nth} ${name}`, Number(value)] as const),
  );
  const names = ['intercept', 'slope', 'scale', 'low', 'high'] as const;
  const furthest = new Map<string, number>();
  for (const [nth, rows] of cases.entries()) {
    const found = lifeRegression(rows, 0.95);
    for (const name of names) {
      const off = Math.abs((found?.[name] ?? Number.NaN) - (said.get(`${nth} ${name}`) ?? Number.NaN));
      furthest.set(name, Math.max(furthest.get(name) ?? 0, off));
      expect(off).toBeLessThan(1e-6);
    }
  }
  printed('lives: furthest from R survival 20 times', [
    Object.fromEntries([...furthest].map(([name, off]) => [name, off.toExponential(1)])),
  ]);
});

test('of 500 invented shops with 30 lives each, some cut short, the interval holds the true slope in more than 90 of 100', () => {
  let holds = 0;
  let fitted = 0;
  for (let seed = 1; seed <= 500; seed += 1) {
    const found = lifeRegression(invented(seed, 30, -0.5), 0.95);
    if (found === undefined) continue;
    fitted += 1;
    if (found.low <= -0.5 && found.high >= -0.5) holds += 1;
  }
  printed('lives: intervals of 95 % that hold the truth', [{ fitted, holds, share: (holds / fitted).toFixed(3) }]);
  expect(fitted).toBeGreaterThan(480);
  // 95 % less what three standard errors of 500 shops and the small sample take.
  expect(holds / fitted).toBeGreaterThan(0.9);
});

test('another unit of time or of the quantity changes nothing but the units', () => {
  const rows = invented(5, 60, -0.6);
  const found = lifeRegression(rows, 0.95);
  const hours = lifeRegression(
    rows.map((row) => ({ ...row, time: row.time / 60 })),
    0.95,
  );
  const percent = lifeRegression(
    rows.map((row) => ({ ...row, x: row.x * 100 })),
    0.95,
  );
  expect(hours?.slope).toBeCloseTo(found?.slope ?? Number.NaN, 7);
  expect((percent?.low ?? Number.NaN) * 100).toBeCloseTo(found?.low ?? Number.NaN, 6);
});

test('what says nothing, and what cannot be', () => {
  expect(lifeRegression([], 0.95)).toBeUndefined();
  expect(
    lifeRegression(
      [
        { time: 1, ended: true, x: 1 },
        { time: 2, ended: true, x: 1 },
      ],
      0.95,
    ),
  ).toBeUndefined();
  expect(
    lifeRegression(
      invented(1, 20, 0).map((row) => ({ ...row, ended: false })),
      0.95,
    ),
  ).toBeUndefined();
  expect(() => lifeRegression([{ time: 0, ended: true, x: 1 }], 0.95)).toThrow(RangeError);
});
