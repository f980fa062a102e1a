// Indexing (ISO 21940-14): planted parts are found again in both frames, for any number of positions.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  INDEXING_READINGS_MAX,
  resolveIndexing,
  sumUnbalance,
  turnsTellApart,
  turnUnbalance,
  type IndexedReading,
  type IndexingFrame,
  type UnbalanceVector,
} from '../../../shared/balance/index.ts';
import { distanceGmm, unbalances } from './arbitraries.ts';

/** What a bench without error reads: the slower, simpler twin of the code under test. */
function readingsOf(
  frame: IndexingFrame,
  assembly: UnbalanceVector,
  bench: UnbalanceVector,
  turnsDeg: readonly number[],
): IndexedReading[] {
  return turnsDeg.map((turnDeg) => ({
    turnDeg,
    unbalance:
      frame === 'rotor'
        ? sumUnbalance([assembly, turnUnbalance(bench, -turnDeg)])
        : sumUnbalance([turnUnbalance(assembly, turnDeg), bench]),
  }));
}

const frames = fc.constantFrom<IndexingFrame>('rotor', 'machine');
const equallySpaced = (count: number): number[] => Array.from({ length: count }, (_, index) => (360 * index) / count);

describe('indexing', () => {
  test.each([
    // X1, X2: ISO 21940-14, index method. The mark on the assembly, then the mark on the bench spindle.
    { id: 'X1', frame: 'rotor' as const, secondDeg: 26.253 },
    { id: 'X2', frame: 'machine' as const, secondDeg: 206.253 },
  ])('$id: in the $frame frame the assembly has 5∠30°, the adapter 3∠200° (ISO 21940-14)', ({ frame, secondDeg }) => {
    const result = resolveIndexing(frame, [
      { turnDeg: 0, unbalance: { gmm: 2.11087, angleDeg: 44.2877 } },
      { turnDeg: 180, unbalance: { gmm: 7.97146, angleDeg: secondDeg } },
    ]);
    expect(Math.abs(result.assembly.gmm - 5)).toBeLessThan(1e-3);
    expect(Math.abs(result.assembly.angleDeg - 30)).toBeLessThan(1e-3);
    expect(Math.abs(result.bench.gmm - 3)).toBeLessThan(1e-3);
    expect(Math.abs(result.bench.angleDeg - 200)).toBeLessThan(1e-3);
    expect(result.scatterGmm).toBeNull();
    expect(result.scatterMaxGmm).toBeNull();
  });

  test('in the rotor frame the mean of equally spaced readings is the assembly (ISO 21940-14)', () => {
    const readings = readingsOf('rotor', { gmm: 4, angleDeg: 75 }, { gmm: 9, angleDeg: 310 }, equallySpaced(4));
    const sum = sumUnbalance(readings.map((reading) => reading.unbalance));
    const { assembly } = resolveIndexing('rotor', readings);
    expect(distanceGmm(assembly, { gmm: sum.gmm / 4, angleDeg: sum.angleDeg })).toBeLessThan(1e-12);
  });

  test('assembly and bench are found again for any number of equally spaced positions, starting anywhere', () => {
    const starts = fc.integer({ min: -180, max: 180 });
    fc.assert(
      fc.property(
        frames,
        unbalances,
        unbalances,
        fc.integer({ min: 2, max: 24 }),
        starts,
        (frame, a, b, count, start) => {
          const turns = equallySpaced(count).map((turnDeg) => turnDeg + start);
          const result = resolveIndexing(frame, readingsOf(frame, a, b, turns));
          expect(distanceGmm(result.assembly, a)).toBeLessThan(1e-9);
          expect(distanceGmm(result.bench, b)).toBeLessThan(1e-9);
          expect(result.scatterGmm ?? 0).toBeLessThan(1e-9);
        },
      ),
    );
  });

  test('they are found again from unequal turns too, as long as the turns tell them apart', () => {
    const turnLists = fc.array(fc.integer({ min: 0, max: 359 }), { minLength: 2, maxLength: 12 });
    fc.assert(
      fc.property(frames, unbalances, unbalances, turnLists, (frame, a, b, turns) => {
        fc.pre(turnsTellApart(turns));
        const result = resolveIndexing(frame, readingsOf(frame, a, b, turns));
        expect(distanceGmm(result.assembly, a)).toBeLessThan(1e-8);
        expect(distanceGmm(result.bench, b)).toBeLessThan(1e-8);
      }),
    );
  });

  test('both frames tell the same story', () => {
    const turns = [0, 90, 180, 270];
    fc.assert(
      fc.property(fc.array(unbalances, { minLength: 4, maxLength: 4 }), (vectors) => {
        const machine = turns.map((turnDeg, index) => ({
          turnDeg,
          unbalance: vectors[index] ?? { gmm: 0, angleDeg: 0 },
        }));
        const rotor = machine.map(({ turnDeg, unbalance }) => ({
          turnDeg,
          unbalance: turnUnbalance(unbalance, -turnDeg),
        }));
        const one = resolveIndexing('machine', machine);
        const other = resolveIndexing('rotor', rotor);
        expect(distanceGmm(one.assembly, other.assembly)).toBeLessThan(1e-9);
        expect(distanceGmm(one.bench, other.bench)).toBeLessThan(1e-9);
        expect(one.scatterGmm ?? -1).toBeCloseTo(other.scatterGmm ?? -2, 9);
      }),
    );
  });

  test('four readings of which one is off by 4 g·mm: the parts shift, the scatter shows it', () => {
    const readings = readingsOf('machine', { gmm: 5, angleDeg: 0 }, { gmm: 2, angleDeg: 90 }, equallySpaced(4));
    const [first, ...rest] = readings;
    if (first === undefined) throw new Error('four readings were made');
    const off = { ...first, unbalance: sumUnbalance([first.unbalance, { gmm: 4, angleDeg: 0 }]) };
    const result = resolveIndexing('machine', [off, ...rest]);
    // A quarter of the error goes into each part; half of it stays at its own place, the other half at the opposite.
    expect(result.assembly.gmm).toBeCloseTo(6, 12);
    expect(result.scatterMaxGmm).toBeCloseTo(2, 12);
    expect(result.scatterGmm).toBeCloseTo(Math.sqrt(8 / 2), 12);
  });

  test('turns too close, too few or too many are refused, and can be asked about before', () => {
    expect(turnsTellApart([0, 180])).toBe(true);
    expect(turnsTellApart([0, 60])).toBe(true);
    expect(turnsTellApart([0, 50])).toBe(false);
    expect(turnsTellApart([0])).toBe(false);
    expect(turnsTellApart([0, 360])).toBe(false);
    expect(turnsTellApart(equallySpaced(INDEXING_READINGS_MAX + 1))).toBe(false);
    const reading = (turnDeg: number): IndexedReading => ({ turnDeg, unbalance: { gmm: 1, angleDeg: 0 } });
    expect(() => resolveIndexing('rotor', [reading(0), reading(360)])).toThrow(/turned well apart .* came 2 at 0, 360/);
    expect(() => resolveIndexing('rotor', [reading(0), reading(Number.NaN)])).toThrow(/turnDeg: expected a finite/);
    expect(() => resolveIndexing('rotor', [])).toThrow(RangeError);
  });
});
