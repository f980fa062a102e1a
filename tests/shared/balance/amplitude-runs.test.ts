// Balancing without phase, against a printed case and against planted unbalances.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { balanceByAmplitudes, sumUnbalance, turnUnbalance } from '../../../shared/balance/index.ts';

const trial = { gmm: 1, angleDeg: 0 };

describe('three amplitude runs', () => {
  test('I4: 3, 5 and 4: the trial mass does 3.39116, ±77.2227° to the heavy spot, 0.884652 of it to add (law of cosines)', () => {
    const answer = balanceByAmplitudes({ initial: 3, withTrial: 5, withTrialOpposite: 4, trial });
    if (answer.kind !== 'two-places') throw new Error('expected two places');
    expect(Math.abs(answer.effect - 3.39116)).toBeLessThan(1e-4);
    expect(Math.abs(answer.heavySpotOffDeg - 77.2227)).toBeLessThan(1e-4);
    expect(Math.abs(answer.correctionGmm - 0.884652)).toBeLessThan(1e-4);
    expect(answer.correctionDeg[0]).toBeCloseTo(257.2227, 3);
    expect(answer.correctionDeg[1]).toBeCloseTo(102.7773, 3);
  });

  test('one of the two places takes a planted unbalance away', () => {
    const angles = fc.double({ min: 0, max: 360, noNaN: true });
    fc.assert(
      fc.property(angles, angles, fc.double({ min: 0.2, max: 5, noNaN: true }), (heavy, place, gmm) => {
        const unbalance = { gmm, angleDeg: heavy };
        const first = { gmm: 1, angleDeg: place };
        const answer = balanceByAmplitudes({
          initial: 2 * gmm,
          withTrial: 2 * sumUnbalance([unbalance, first]).gmm,
          withTrialOpposite: 2 * sumUnbalance([unbalance, turnUnbalance(first, 180)]).gmm,
          trial: first,
        });
        if (answer.kind !== 'two-places') throw new Error('expected two places');
        const left = answer.correctionDeg.map(
          (angleDeg) => sumUnbalance([unbalance, { gmm: answer.correctionGmm, angleDeg }]).gmm,
        );
        expect(Math.min(...left)).toBeLessThan(1e-5 * gmm);
      }),
    );
  });

  test('readings that no unbalance makes are told, nonsense is refused', () => {
    const runs = { initial: 10, withTrial: 1, withTrialOpposite: 1, trial };
    expect(balanceByAmplitudes(runs)).toEqual({ kind: 'contradictory' });
    expect(balanceByAmplitudes({ ...runs, initial: 1, withTrial: 9, withTrialOpposite: 1 })).toEqual({
      kind: 'contradictory',
    });
    expect(() => balanceByAmplitudes({ ...runs, withTrial: 1e200 })).toThrow(RangeError);
    expect(() =>
      balanceByAmplitudes({ initial: 10, withTrial: 11, withTrialOpposite: 10, trial: { gmm: 1e308, angleDeg: 0 } }),
    ).toThrow(/correctionGmm/);
    expect(() => balanceByAmplitudes({ ...runs, initial: 0 })).toThrow(/initial: expected/);
    expect(() => balanceByAmplitudes({ ...runs, trial: { gmm: 0, angleDeg: 0 } })).toThrow(/trial.gmm/);
  });
});
