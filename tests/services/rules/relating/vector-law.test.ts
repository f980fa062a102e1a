// Loads of which a tacho tells the angle, where a key keeps it: the law against vectors that add up, and what it is worth.
import fc from 'fast-check';
import { ANGLES, fixedVector } from '../../../../services/rules/relating/amplitude-law.ts';
import { describe, expect, test } from 'vitest';
import { ratiosOf, type LoadRatios } from '../../../../services/rules/relating/load-ratios.ts';
import { knownVector, newSeen, turnSeenBy, unknownAngle } from '../../../../services/rules/relating/vector-law.ts';
import { levelIn, newLevel } from '../../../../services/rules/relating/guesses.ts';
import { printed } from '../../../shared/statistics/printed.ts';
import { KEYED, learned, meanOf, SEEDS, toldOf, type Truth } from './simulated-spindle.ts';

const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);
const WITH_TACHO: Truth = { ...KEYED, answers: [{ rpm: 12_000, answer: 0.05, turnDeg: 130 }] };

test('a vector and a clamping: the density of ln of the amplitude and of the angle is that of a complex normal vector', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -4, max: 4, noNaN: true }),
      fc.double({ min: -4, max: 4, noNaN: true }),
      fc.double({ min: 0.3, max: 4, noNaN: true }),
      fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
      fc.double({ min: -1, max: 1.5, noNaN: true }),
      (x, y, clamping, angle, ln) => {
        fc.pre(Math.hypot(x, y) > 0.1);
        const amount = Math.exp(ln);
        const [atX, atY] = [amount * Math.cos(angle), amount * Math.sin(angle)];
        // In the plane it is exp(−|z − f|²/c) ÷ πc (definition); r dr dφ = r² d(ln r) dφ, against a uniform 1/2π and less 1/√(2π).
        const plane = Math.exp(-((atX - x) ** 2 + (atY - y) ** 2) / clamping) / (Math.PI * clamping);
        const lawful = plane * amount * amount * 2 * Math.PI * ROOT_TWO_PI;
        fc.pre(lawful > 1e-3);
        const seen = { ...newSeen(), ln, turnX: Math.cos(angle), turnY: Math.sin(angle), turnError: 0 };
        // What is looked up is off by a few hundredths, more far out.
        expect(Math.abs(Math.log(knownVector(seen, x, y, clamping) / lawful))).toBeLessThan(0.25);
      },
    ),
    { numRuns: 200, seed: 8 },
  );
});

test('an angle says nothing where no tacho tells it, less the more it may be off by, and over all angles nothing is added', () => {
  const [x, y, clamping] = [3, 1, 2];
  const without = knownVector({ ...newSeen(), ln: 1, error: 0.01 }, x, y, clamping);
  const at = (angle: number, turnError: number): number =>
    knownVector({ ln: 1, error: 0.01, turnX: Math.cos(angle), turnY: Math.sin(angle), turnError }, x, y, clamping);
  const here = Math.atan2(y, x);
  const errors = [0, 0.01, 0.1, 1, 10, 1000].map((error) => at(here, error) / without);
  expect(errors).toEqual(errors.toSorted((a, b) => b - a));
  expect(errors.at(-1)).toBeCloseTo(1, 2);
  for (const error of [0.01, 0.3, 3]) {
    let sum = 0;
    for (let nth = 0; nth < 720; nth += 1) sum += at((nth * Math.PI) / 360, error) / 720;
    expect(sum / without).toBeCloseTo(1, 4);
  }
});

describe('a spindle with a key and a tacho', () => {
  test('its own unbalance is known better than without the tacho, and by how much it turns the angle', () => {
    const rows = SEEDS.map((seed) => {
      const off = (truth: Truth): number => {
        const { guesses } = learned({ ...truth, seed }, 40);
        const angle = (truth.ownDeg * Math.PI) / 180;
        const x = meanOf(guesses, (guess) => guesses.ownX[guess] ?? 0) - truth.ownGmm * Math.cos(angle);
        const y = meanOf(guesses, (guess) => guesses.ownY[guess] ?? 0) - truth.ownGmm * Math.sin(angle);
        return Math.hypot(x, y);
      };
      const { guesses } = learned({ ...WITH_TACHO, seed }, 40);
      const turn = levelIn(guesses, 12_000)?.turn;
      const turnDeg = (meanOf(guesses, (guess) => turn?.mean[guess] ?? Number.NaN) * 180) / Math.PI;
      return { seed, with: off(WITH_TACHO), without: off(KEYED), turnDeg };
    });
    printed('own unbalance 8 g·mm, off by, g·mm; turned by 130°', rows);
    const sum = (of: 'with' | 'without'): number => rows.reduce((all, row) => all + row[of], 0);
    expect(sum('with')).toBeLessThan(sum('without'));
    for (const { turnDeg } of rows) expect(Math.abs(turnDeg - 130)).toBeLessThan(12);
  });

  test('what is as large as before but elsewhere is a change, which its amplitude alone does not tell', () => {
    // The own unbalance turned by 80°: the whole of each build changes, many in their angle more than in their amount.
    const said = (truth: Truth): number => {
      const { guesses } = learned(truth, 40);
      const { next } = learned({ ...truth, ownDeg: truth.ownDeg + 80 }, 0);
      let sum = 0;
      for (let nth = 0; nth < 6; nth += 1) sum += Math.log(largest(ratiosOf(guesses, toldOf(next()), 'all')));
      return sum / 6;
    };
    const rows = SEEDS.map((seed) => ({
      seed,
      with: said({ ...WITH_TACHO, seed }),
      without: said({ ...KEYED, seed }),
    }));
    printed('ln of the likeliest change of the spindle, mean of six loads', rows);
    for (const row of rows) expect(row.with).toBeGreaterThan(row.without);
  });

  test('nothing is said of a change while nothing has changed', () => {
    for (const seed of SEEDS) {
      const { guesses, next } = learned({ ...WITH_TACHO, seed }, 40);
      let sum = 0;
      for (let nth = 0; nth < 20; nth += 1) {
        const { spindle } = ratiosOf(guesses, toldOf(next()), 'all');
        sum += Math.log(spindle.reduce((all, one) => all + one, 0) / spindle.length);
      }
      expect(sum).toBeLessThan(0);
    }
  });
});

const largest = ({ spindle }: LoadRatios): number => Math.max(...spindle);

test('without a key the residual is at any angle: the mean of what a key at each would make of it', () => {
  for (const [own, residual, clamping] of [
    [3, 1, 2],
    [1, 3, 2],
    [2, 2, 3],
  ] as const) {
    for (const angle of [0, 0.7, 2, -2.5]) {
      const seen = { ln: 1, error: 0.02, turnX: Math.cos(angle), turnY: Math.sin(angle), turnError: 0.05 };
      let sum = 0;
      for (let nth = 0; nth < 360; nth += 1) {
        const turned = (nth * Math.PI) / 180;
        sum += knownVector(seen, own + residual * Math.cos(turned), residual * Math.sin(turned), clamping) / 360;
      }
      expect(unknownAngle(seen, own, residual, clamping) / sum).toBeCloseTo(1, 2);
      const alike = { ...seen, turnError: 1e9 };
      const { count, cosines } = ANGLES;
      const any = cosines.reduce(
        (all, cosine) =>
          all + fixedVector(seen.ln, own ** 2 + residual ** 2 + 2 * own * residual * cosine, clamping, seen.error),
        0,
      );
      expect(unknownAngle(alike, own, residual, clamping)).toBeCloseTo(any / count, 6);
    }
  }
});

test('that nothing keeps the angle is found with a tacho as well, whatever the own unbalance is against the residuals', () => {
  const rows = SEEDS.flatMap((seed) =>
    [2, 8, 20].map((ownGmm) => {
      const { guesses } = learned({ ...WITH_TACHO, seed, ownGmm, keyed: false }, 40);
      return { seed, ownGmm, keyed: meanOf(guesses, (guess) => guesses.keyed[guess] ?? 0) };
    }),
  );
  printed('share of the guesses with a key, where there is none', rows);
  for (const { keyed } of rows) expect(keyed).toBeLessThan(0.05);
});

test('several speeds of a load tell one direction, each by how sure it is of how it turns', () => {
  const { guesses } = learned(WITH_TACHO, 1);
  const levels = [newLevel(guesses, 1, 9000), newLevel(guesses, 2, 15_000)];
  const count = guesses.weight.length;
  const turns = [
    { mean: 0.5, variance: 0.04 },
    { mean: -1, variance: 0.01 },
  ];
  levels.forEach((level, nth) => {
    const { mean = 0, variance = 0 } = turns[nth] ?? {};
    level.turn = { mean: new Float32Array(count).fill(mean), variance: new Float32Array(count).fill(variance) };
  });
  const speed = { bin: 1, rpm: 9000, ln: 0, error: 0, restLn: 0, restMargin: 0 };
  const seen = newSeen();
  // They say 0.1 and 0.2 rad, with weights of 25 and 100.
  const load = {
    ...toldOf(learned(WITH_TACHO, 0).next()),
    speeds: [0.6, -0.8].map((phaseRad) => ({ ...speed, phaseRad })),
  };
  const withKey = guesses.keyed.indexOf(1);
  turnSeenBy(guesses, withKey, load, levels, seen);
  expect(Math.atan2(seen.turnY, seen.turnX)).toBeCloseTo((25 * 0.1 + 100 * 0.2) / 125, 3);
  expect(seen.turnError).toBeCloseTo(1 / 125, 6);
  turnSeenBy(guesses, withKey, { ...load, speeds: [{ ...speed, phaseRad: undefined }] }, levels, seen);
  expect(seen.turnError).toBe(Infinity);
  // Without a key, and with residuals as large, they tell none.
  guesses.ownX = guesses.ownX.map(() => load.residualGmm);
  turnSeenBy(guesses, guesses.keyed.indexOf(0), load, levels, seen);
  expect(seen.turnError).toBe(Infinity);
});
