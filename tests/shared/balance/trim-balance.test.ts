// Influence coefficients: printed cases, planted rotors, and warnings where the readings cannot say as much.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  influenceCoefficients,
  predictedVibration,
  trimBalance,
  type TrialRun,
  type TrialRuns,
  type UnbalanceVector,
  type VibrationVector,
} from '../../../shared/balance/index.ts';
import { plus, times, type Complex } from '../../../shared/balance/complex.ts';
import { complexOf, fromLead } from '../../../shared/balance/influence-coefficients.ts';
import { distanceGmm } from './arbitraries.ts';

const at = (amplitude: number, phaseDeg: number): VibrationVector => ({ amplitude, phaseDeg });
const mass = (gmm: number, angleDeg: number): UnbalanceVector => ({ gmm, angleDeg });

function onePlane(initial: VibrationVector, trial: UnbalanceVector, after: VibrationVector): TrialRuns {
  return {
    phaseSense: 'lead',
    initial: [initial],
    trials: [{ plane: 0, mass: trial, readings: [after], leftOn: false }],
  };
}

function exactOf(runs: TrialRuns): readonly UnbalanceVector[] {
  return trimBalance(runs, null).inAllPlanes?.settings.map(({ exact }) => exact) ?? [];
}

describe('one plane', () => {
  test.each([
    // ISO 21940-13 for the method. I1: a pencil construction prints 77.77; I2: printed 83.5 at 308.87°; I3: an exercise.
    { id: 'I1', initial: at(7, 160), trial: mass(100, 0), after: at(5, 70), gmm: 81.37335, angleDeg: 324.4622 },
    {
      id: 'I2',
      initial: at(4.81, 16.8),
      trial: mass(103.25, 0),
      after: at(4.7628, 299.9),
      gmm: 83.42863,
      angleDeg: 308.8058,
    },
    { id: 'I3', initial: at(0.2, 40), trial: mass(0.2, -65), after: at(0.5, 150), gmm: 0.066815, angleDeg: 346.704 },
    { id: 'S5', initial: at(10, 40), trial: mass(6, -65), after: at(19, 150), gmm: 2.46814, angleDeg: 342.26 },
  ])('$id: $gmm at $angleDeg° (method: ISO 21940-13; numbers common practice, no source)', (row) => {
    const [found] = exactOf(onePlane(row.initial, row.trial, row.after));
    expect(Math.abs((found?.gmm ?? 0) - row.gmm)).toBeLessThan(1e-3);
    expect(Math.abs((found?.angleDeg ?? 0) - row.angleDeg)).toBeLessThan(1e-3);
  });

  test('with the trial mass left on, the correction goes beside it: together they are the correction without', () => {
    const runs = onePlane(at(7, 160), mass(100, 0), at(5, 70));
    const [alone] = exactOf(runs);
    const [beside] = exactOf({ ...runs, trials: runs.trials.map((trial) => ({ ...trial, leftOn: true })) });
    if (alone === undefined || beside === undefined) throw new Error('one plane has one correction');
    const sum = plus(complexOf(beside), complexOf(mass(100, 0)));
    expect(sum.re).toBeCloseTo(complexOf(alone).re, 9);
    expect(sum.im).toBeCloseTo(complexOf(alone).im, 9);
  });

  test('phase read as lag mirrors the angles, and is told, not guessed', () => {
    const lead = onePlane(at(7, 160), mass(100, 30), at(5, 70));
    const lag: TrialRuns = { ...onePlane(at(7, -160), mass(100, 30), at(5, -70)), phaseSense: 'lag' };
    const [one] = exactOf(lead);
    const [other] = exactOf(lag);
    if (one === undefined || other === undefined) throw new Error('one plane has one correction');
    expect(distanceGmm(one, other)).toBeLessThan(1e-9);
    const [wrong] = exactOf({ ...lag, phaseSense: 'lead' });
    expect(distanceGmm(one, wrong ?? one)).toBeGreaterThan(50);
  });

  test('a prediction for anything else that is set, beside what stays on', () => {
    const runs = onePlane(at(7, 160), mass(100, 0), at(5, 70));
    const stays = { ...runs, trials: runs.trials.map((trial) => ({ ...trial, leftOn: true })) };
    expect(predictedVibration(runs, [mass(100, 0)])[0]?.amplitude).toBeCloseTo(5, 10);
    expect(predictedVibration(stays, [mass(0, 0)])[0]).toMatchObject({ amplitude: expect.closeTo(5, 10) as number });
    expect(predictedVibration(stays, [mass(100, 180)])[0]?.amplitude).toBeCloseTo(7, 10);
  });

  test('the prediction is made for what can be set', () => {
    const runs = onePlane(at(7, 160), mass(100, 0), at(5, 70));
    const way = trimBalance(runs, { amountGmm: 5, angleDeg: 15 }).inAllPlanes;
    expect(way?.settings[0]?.set).toEqual(mass(80, 330));
    const missGmm = distanceGmm(mass(80, 330), way?.settings[0]?.exact ?? mass(0, 0));
    expect(way?.predicted[0]?.amplitude).toBeCloseTo((missGmm * 8.6023253) / 100, 5);
    expect(way?.leftShare).toBeCloseTo((way?.predicted[0]?.amplitude ?? 0) / 7, 12);
  });
});

const TURBINE: TrialRuns = {
  phaseSense: 'lead',
  initial: [at(8.5, 60), at(6.5, 205)],
  trials: [
    { plane: 0, mass: mass(10, 270), readings: [at(6, 125), at(4.5, 230)], leftOn: false },
    { plane: 1, mass: mass(12, 180), readings: [at(6, 35), at(10.5, 160)], leftOn: false },
  ],
};

/** What the rotor would read with these unbalances added: the plain forward sum, beside the code under test. */
function vibrationWith(runs: TrialRuns, added: readonly UnbalanceVector[]): number[] {
  const { columns } = influenceCoefficients(runs);
  return runs.initial.map((reading, sensor) => {
    const radians = (reading.phaseDeg * Math.PI) / 180;
    let sum: Complex = { re: reading.amplitude * Math.cos(radians), im: reading.amplitude * Math.sin(radians) };
    for (const [plane, column] of columns.entries()) {
      sum = plus(sum, times(column[sensor] ?? { re: 0, im: 0 }, complexOf(added[plane] ?? mass(0, 0))));
    }
    return Math.hypot(sum.re, sum.im);
  });
}

describe('two planes', () => {
  test('I5, TP1: the corrections leave nothing (data of a turbine exercise from memory: Rao, Mechanical Vibrations)', () => {
    const answer = trimBalance(TURBINE, null);
    const [left, right] = exactOf(TURBINE);
    for (const { amplitude } of answer.inAllPlanes?.predicted ?? [at(9, 0)]) expect(amplitude).toBeLessThan(1e-7);
    for (const amplitude of vibrationWith(TURBINE, [left ?? mass(0, 0), right ?? mass(0, 0)])) {
      expect(amplitude).toBeLessThan(1e-7);
    }
    expect(Math.abs((left?.gmm ?? 0) - 10.05614)).toBeLessThan(1e-3);
    expect(Math.abs((left?.angleDeg ?? 0) - 325.5548)).toBeLessThan(1e-3);
    expect(Math.abs((right?.gmm ?? 0) - 5.87736)).toBeLessThan(1e-3);
    expect(Math.abs((right?.angleDeg ?? 0) - 68.2559)).toBeLessThan(1e-3);
    // The places of the unbalance itself, which are printed as those of the weights, double the vibration.
    const doubled = vibrationWith(TURBINE, [mass(10.05614, 145.5548), mass(5.87736, 248.2559)]);
    expect(doubled[0]).toBeCloseTo(17, 3);
    expect(doubled[1]).toBeCloseTo(13, 3);
  });

  test('I6, TP2: a symmetric machine, effects given as changes (NPTEL course 112103024, example 13.5)', () => {
    const sum = (a: VibrationVector, b: VibrationVector): VibrationVector => {
      const to = ({ amplitude, phaseDeg }: VibrationVector): Complex => complexOf(mass(amplitude, phaseDeg));
      return fromLead(plus(to(a), to(b)), 'lead');
    };
    const [near, far] = [at(50, 61), at(42, 130)];
    const initial: [VibrationVector, VibrationVector] = [at(30, 230), at(70, 330)];
    const runs: TrialRuns = {
      phaseSense: 'lead',
      initial,
      trials: [
        { plane: 0, mass: mass(0.3, 30), readings: [sum(initial[0], near), sum(initial[1], far)], leftOn: false },
        { plane: 1, mass: mass(0.3, 30), readings: [sum(initial[0], far), sum(initial[1], near)], leftOn: false },
      ],
    };
    const [first, second] = exactOf(runs);
    expect(Math.abs((first?.gmm ?? 0) - 0.3325)).toBeLessThan(1e-4);
    expect(Math.abs((first?.angleDeg ?? 0) - 28.9205)).toBeLessThan(1e-4);
    expect(Math.abs((second?.gmm ?? 0) - 0.188404)).toBeLessThan(1e-4);
    expect(Math.abs((second?.angleDeg ?? 0) - 151.2207)).toBeLessThan(1e-4);
  });

  const coefficient = fc.record({ re: fc.integer({ min: -50, max: 50 }), im: fc.integer({ min: -50, max: 50 }) });
  const small = fc.record({
    gmm: fc.double({ min: 1, max: 50, noNaN: true }),
    angleDeg: fc.double({ min: 0, max: 360, noNaN: true }),
  });

  test('planted unbalances are found again by two to five sensors, whatever stays on and whatever the sense of phase', () => {
    const sensors = fc.array(fc.tuple(coefficient, coefficient), { minLength: 2, maxLength: 5 });
    fc.assert(
      fc.property(
        sensors,
        small,
        small,
        fc.boolean(),
        fc.boolean(),
        fc.constantFrom('lead' as const, 'lag' as const),
        (influence, first, second, firstStays, secondStays, phaseSense) => {
          const read = (a: readonly UnbalanceVector[], b: readonly UnbalanceVector[]): VibrationVector[] =>
            influence.map(([alpha, beta]) => {
              let sum: Complex = { re: 0, im: 0 };
              for (const one of a) sum = plus(sum, times(alpha, complexOf(one)));
              for (const one of b) sum = plus(sum, times(beta, complexOf(one)));
              return fromLead(sum, phaseSense);
            });
          const [trialA, trialB] = [mass(20, 40), mass(15, 300)];
          const runs: TrialRuns = {
            phaseSense,
            initial: read([first], [second]),
            trials: [
              { plane: 0, mass: trialA, readings: read([first, trialA], [second]), leftOn: firstStays },
              {
                plane: 1,
                mass: trialB,
                readings: read(firstStays ? [first, trialA] : [first], [second, trialB]),
                leftOn: secondStays,
              },
            ],
          };
          fc.pre(influence.some(([alpha]) => alpha.re !== 0 || alpha.im !== 0));
          fc.pre(influence.some(([, beta]) => beta.re !== 0 || beta.im !== 0));
          const answer = trimBalance(runs, null);
          fc.pre(answer.inAllPlanes !== null);
          const settings = answer.inAllPlanes?.settings ?? [];
          const left = (plane: 0 | 1, parts: readonly UnbalanceVector[]): number => {
            let sum = complexOf(settings[plane]?.exact ?? mass(0, 0));
            for (const one of parts) sum = plus(sum, complexOf(one));
            return Math.hypot(sum.re, sum.im);
          };
          expect(left(0, firstStays ? [first, trialA] : [first])).toBeLessThan(1e-7);
          expect(left(1, secondStays ? [second, trialB] : [second])).toBeLessThan(1e-7);
          expect(answer.inAllPlanes?.leftShare).toBeLessThan(1e-9);
        },
      ),
    );
  });

  test('columns nearly parallel: no two masses, but the sum and each plane alone', () => {
    const nearly = (share: number): TrialRun[] => [
      { plane: 0, mass: mass(10, 0), readings: [at(1, 0), at(1, 0)], leftOn: false },
      { plane: 1, mass: mass(10, 0), readings: [at(1, 0), at(1 + share, 0)], leftOn: false },
    ];
    const initial = [at(3, 0), at(3, 0)];
    const runs = (share: number): TrialRuns => ({ phaseSense: 'lead', initial, trials: nearly(share) });
    const answer = trimBalance(runs(0.05), null);
    expect(answer.warnings).toContain('ill-conditioned');
    expect(answer.coefficients.conditioning.coherence).toBeGreaterThan(0.98);
    expect(answer.inAllPlanes).toBeNull();
    expect(answer.sum).not.toBeNull();
    expect(answer.inOnePlane.map(({ settings }) => settings[0]?.plane)).toEqual([0, 1]);
    const alike = trimBalance(runs(0), null);
    expect(alike.warnings).toEqual(['planes-alike']);
    expect(alike.sum).toBeNull();
    expect(alike.coefficients.conditioning.condition).toBe(Number.POSITIVE_INFINITY);
    expect(alike.inOnePlane[0]?.leftShare).toBeCloseTo(0, 12);
  });
});

describe('warnings and refusals', () => {
  test('a trial that changes amplitude by less than 30 % and phase by less than 30° is weak (common practice, no source)', () => {
    const warningsOf = (after: VibrationVector) => trimBalance(onePlane(at(10, 350), mass(1, 0), after), null).warnings;
    expect(warningsOf(at(12.9, 10))).toEqual(['weak-trial']);
    expect(warningsOf(at(13, 10))).toEqual([]);
    expect(warningsOf(at(10, 20.1))).toEqual([]);
    expect(warningsOf(at(6.9, 350))).toEqual([]);
  });

  test('a second trial beside the first is weighed against the run with the first', () => {
    const runs: TrialRuns = {
      ...TURBINE,
      trials: [
        { ...(TURBINE.trials[0] as TrialRun), leftOn: true },
        { plane: 1, mass: mass(1, 0), readings: [at(6.1, 126), at(4.6, 231)], leftOn: false },
      ],
    };
    expect(influenceCoefficients(runs).weakTrials).toEqual([1]);
  });

  test('what cannot be reckoned with is refused, saying what was expected', () => {
    const good = onePlane(at(7, 160), mass(100, 0), at(5, 70));
    expect(() => trimBalance({ ...good, trials: [] }, null)).toThrow(/trials: expected 1 to 32/);
    expect(() => trimBalance({ ...good, initial: [] }, null)).toThrow(/initial: expected readings of 1 to 32 sensors/);
    expect(() => trimBalance(onePlane(at(7, 160), mass(0, 0), at(5, 70)), null)).toThrow(
      /trial mass above 0 in plane 1/,
    );
    expect(() => trimBalance(onePlane(at(7, 160), mass(9, 0), at(7, 160)), null)).toThrow(/changed nothing/);
    expect(() => trimBalance({ ...good, initial: [at(1, 0), at(1, 0)] }, null)).toThrow(
      /expected readings of 2 sensors, came 1/,
    );
    expect(() => trimBalance(good, { amountGmm: 0, angleDeg: 1 })).toThrow(/amountGmm/);
    const [first, second] = TURBINE.trials as [TrialRun, TrialRun];
    const oneSensor = [first, second].map((trial) => ({ ...trial, readings: trial.readings.slice(0, 1) }));
    expect(() => trimBalance({ ...TURBINE, initial: [at(8.5, 60)], trials: oneSensor }, null)).toThrow(
      /as many sensors as planes/,
    );
    expect(() => trimBalance({ ...TURBINE, trials: [second] }, null)).toThrow(/trial mass above 0 in plane 1/);
  });
});
