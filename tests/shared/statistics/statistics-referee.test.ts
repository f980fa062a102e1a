// Distributions and robust slopes against SciPy on random numbers; the largest differences are printed.
import { expect, test } from 'vitest';
import { normalQuantile, shareBelow, shareBelowT } from '../../../shared/statistics/distributions.ts';
import { robustSlope } from '../../../shared/statistics/robust-slope.ts';
import { askPython } from '../../environment/python.ts';
import { printed } from './printed.ts';
import { draws, normal } from './invented-courses.ts';

interface Answer {
  readonly t: readonly number[];
  readonly normal: readonly number[];
  readonly quantiles: readonly number[];
  readonly slopes: readonly (readonly [number, number, number, number])[];
}

function largestOf(ours: readonly number[], theirs: readonly number[], of: (a: number, b: number) => number): number {
  return Math.max(...ours.map((value, i) => of(value, theirs[i] ?? Number.NaN)));
}

const apart = (a: number, b: number): number => Math.abs(a - b);
const relative = (a: number, b: number): number => (a === b ? 0 : Math.abs(a - b) / Math.max(Math.abs(b), 1e-300));

test('Student, Gauss, Theil and Sen as SciPy reckons them', () => {
  const draw = draws(11);
  const t = Array.from({ length: 400 }, (): [number, number] => [normal(draw) * 6, 0.7 + draw() ** 2 * 200]);
  const normals = Array.from({ length: 400 }, () => normal(draw) * 3);
  const shares = Array.from({ length: 200 }, () => draw());
  const series = Array.from({ length: 200 }, () => {
    const points = 4 + Math.floor(draw() * 60);
    const x = Array.from({ length: points }, (_, i) => i + draw());
    const steep = normal(draw);
    const y = x.map((value) => steep * value + normal(draw) * 5 * (draw() < 0.1 ? 8 : 1));
    return { x, y, confidence: 0.5 + 0.49 * draw() };
  });
  const theirs = askPython<Answer>(new URL('statistics-referee.py', import.meta.url), {
    t,
    normal: normals,
    shares,
    series,
  });
  const slopes = series.map(({ x, y, confidence }) => robustSlope(x, y, confidence));
  const differences = {
    'Student, share below': largestOf(
      t.map(([value, freedom]) => shareBelowT(value, freedom)),
      theirs.t,
      apart,
    ),
    'normal, share below': largestOf(
      normals.map((value) => shareBelow(value)),
      theirs.normal,
      apart,
    ),
    'normal quantile': largestOf(
      shares.map((share) => normalQuantile(share)),
      theirs.quantiles,
      apart,
    ),
    'robust slope, relative': largestOf(
      slopes.map((it) => it?.slope ?? 0),
      theirs.slopes.map(([slope]) => slope),
      relative,
    ),
    'robust height, relative': largestOf(
      slopes.map((it) => it?.intercept ?? 0),
      theirs.slopes.map(([, height]) => height),
      relative,
    ),
  };
  printed(
    'largest differences from SciPy',
    Object.entries(differences).map(([what, largest]) => ({ what, largest })),
  );
  for (const [name, value] of Object.entries(differences)) expect(value, name).toBeLessThan(1e-9);
  // Where the interval ends beyond the slopes SciPy names the outermost one: ours says that it is not bounded.
  const ends = slopes.flatMap((ours, i) => [
    [ours?.low ?? 0, theirs.slopes[i]?.[2] ?? 0] as const,
    [ours?.high ?? 0, theirs.slopes[i]?.[3] ?? 0] as const,
  ]);
  const bounded = ends.filter(([ours]) => Number.isFinite(ours));
  expect(bounded.length).toBeGreaterThan(300);
  for (const [ours, scipy] of bounded) expect(ours).toBeCloseTo(scipy, 10);
});
