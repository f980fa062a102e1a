// The drift of a bench's own part: found where it is planted, not found where there is scatter only.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ownPartDrift, type OwnPartPoint } from '../../../shared/bench-health/index.ts';

/** Normal numbers from a seed (linear congruential generator, Box and Muller 1958). */
function normals(seed: number): () => number {
  let state = seed;
  const uniform = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

function pointAt(at: number, xUm: number, yUm: number): OwnPartPoint {
  return { at, um: Math.hypot(xUm, yUm), angleDeg: (Math.atan2(yUm, xUm) * 180) / Math.PI };
}

function points(count: number, next: () => number, moved = 0): OwnPartPoint[] {
  return Array.from({ length: count }, (_, index) =>
    pointAt(index, 3 + next() + (index >= count - 5 ? moved : 0), 1 + next()),
  );
}

test('a step of six standard deviations is found, with its size and direction', () => {
  const drift = ownPartDrift(points(40, normals(7), 6));
  expect(drift?.shown).toBe(true);
  expect(drift?.driftUm).toBeGreaterThan(4);
  expect(drift?.driftUm).toBeLessThan(8);
  expect(Math.cos(((drift?.angleDeg ?? 180) * Math.PI) / 180)).toBeGreaterThan(0.8);
  expect(drift?.latestSince).toBe(35);
  expect(drift?.sentence).toMatch(/has moved by .* µm \(uncertainty .* µm, 5 results against the first 20\)/);
});

test('without drift it is called one at most once in three hundred with eight points, in a thousand with twenty', () => {
  const shareOf = (count: number, trials: number): number => {
    const next = normals(20_261);
    const shown = Array.from({ length: trials }, () => ownPartDrift(points(count, next))?.shown === true);
    return shown.filter(Boolean).length / trials;
  };
  // Three standard deviations of a count above the share that the comment of the code promises.
  expect(shareOf(13, 6000)).toBeLessThan(1 / 300 + 3 * Math.sqrt(1 / 300 / 6000));
  expect(shareOf(25, 6000)).toBeLessThan(1 / 1000 + 3 * Math.sqrt(1 / 1000 / 6000));
});

test('wild readings in the baseline or among the latest make no drift', () => {
  const calm = points(30, normals(3));
  const wild = calm.map((point, index) =>
    index === 4 || index === 11 || index === 27 ? { ...point, um: 400 } : point,
  );
  expect(ownPartDrift(wild)?.shown).toBe(false);
});

test('too few points say nothing; a bench that repeats itself to the last digit shows any change', () => {
  const still = Array.from({ length: 13 }, (_, at) => pointAt(at, 2, 0));
  expect(ownPartDrift(still.slice(1))).toBeUndefined();
  expect(ownPartDrift([])).toBeUndefined();
  expect(ownPartDrift(still)).toMatchObject({ driftUm: 0, uncertaintyUm: 0, shown: false });
  const moved = [...still, ...Array.from({ length: 5 }, (_, at) => pointAt(20 + at, 2.5, 0))];
  expect(ownPartDrift(moved)).toMatchObject({ shown: true, baselinePoints: 13 });
  expect(ownPartDrift(moved)?.driftUm).toBeCloseTo(0.5, 12);
});

test('turning the bench spindle’s mark turns the drift and changes no size', () => {
  fc.assert(
    fc.property(
      fc.nat(),
      fc.double({ min: 0, max: 20, noNaN: true }),
      fc.constantFrom(90, 180, 270),
      (seed, moved, turn) => {
        const straight = points(18, normals(seed), moved);
        const one = ownPartDrift(straight);
        const other = ownPartDrift(straight.map((point) => ({ ...point, angleDeg: point.angleDeg + turn })));
        expect(other?.driftUm).toBeCloseTo(one?.driftUm ?? -1, 9);
        expect(other?.uncertaintyUm).toBeCloseTo(one?.uncertaintyUm ?? -1, 9);
      },
    ),
  );
});

test('what is no number is refused', () => {
  const bad = Array.from({ length: 13 }, (_, at) => ({ at, um: at === 3 ? Number.NaN : 1, angleDeg: 0 }));
  expect(() => ownPartDrift(bad)).toThrow(RangeError);
});
