// An outside referee for the geometry of corrections: SciPy integrates a thousand random holes and flats, and turns rings.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { axialHole, flatCut, radialHole, ringAngles, type MovedMaterial } from '../../../shared/correction/index.ts';
import { askPython } from '../../environment/python.ts';
import { largestDifference, say } from '../balance/referee.ts';

const SEED = 20_261_126;
const CASES = 1000;
const BOUND = 1e-11;

const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const hole = fc.record({
  diameterMm: between(2, 12),
  depthMm: between(0.5, 15),
  pointAngleDeg: between(60, 150),
  radiusMm: between(40, 120),
  densityGCm3: between(2, 18),
});
const flat = fc.record({
  radiusMm: between(10, 80),
  depthMm: between(0.1, 5),
  widthMm: between(2, 40),
  densityGCm3: between(2, 18),
});
// Not at the ends of what two rings reach: there an angle hangs on the square root of the last bit.
const rings = fc
  .record({ first: between(1, 30), second: between(1, 30), part: between(0.05, 0.95), angleDeg: between(0, 360) })
  .filter(({ first, second }) => Math.abs(first - second) > 0.01)
  .map(({ first, second, part, angleDeg }) => {
    const least = Math.abs(first - second);
    return { each: [first, second] as const, wanted: { gmm: least + part * (first + second - least), angleDeg } };
  });

const asList = ({ massG, gmm }: MovedMaterial): number[] => [massG, gmm];
const direction = (angleDeg: number): number[] => [
  Math.cos((angleDeg * Math.PI) / 180),
  Math.sin((angleDeg * Math.PI) / 180),
];

test('a thousand random holes, flats and rings agree with SciPy', () => {
  const sample = <T>(of: fc.Arbitrary<T>): T[] => fc.sample(of, { seed: SEED, numRuns: CASES });
  const cases = { radial: sample(hole), axial: sample(hole), flat: sample(flat), rings: sample(rings) };
  const ours: Record<keyof typeof cases, number[][]> = {
    radial: cases.radial.map((one) => asList(radialHole(one, one.radiusMm, one.densityGCm3))),
    axial: cases.axial.map((one) => asList(axialHole(one, one.radiusMm, one.densityGCm3))),
    flat: cases.flat.map((one) => asList(flatCut(one, one.densityGCm3))),
    rings: cases.rings.map(({ each, wanted }) => (ringAngles(each, wanted) ?? []).flatMap(direction)),
  };
  const theirs = askPython<typeof ours>(new URL('./geometry-referee.py', import.meta.url), cases);
  for (const kind of Object.keys(ours) as (keyof typeof cases)[]) {
    const difference = largestDifference(ours[kind], theirs[kind]);
    say(
      `referee, seed ${SEED}: ${kind}, ${ours[kind].length} cases, largest relative difference ${difference.toExponential(1)}`,
    );
    expect(difference, kind).toBeLessThan(BOUND);
  }
}, 120_000);
