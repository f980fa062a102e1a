// The verdict on one residual: ISO 21940-14's rule of acceptance, and how it moves with each number.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  acceptedAtBalancing,
  acceptedAtLaterCheck,
  GRADE_CONSTANT,
  judgeResidual,
  type BalanceDemand,
  type ResidualQuestion,
} from '../../../shared/balance/index.ts';

/** A demand whose permissible residual is 5 g·mm, near enough to the last bit: 2 kg at 2.5 µm. */
const demandOfFive: BalanceDemand = { massKg: 2, serviceSpeedRpm: GRADE_CONSTANT, gradeMmS: 2.5 };
const question = (residualGmm: number, errorGmm = 0.7, reclampingUm: number | null = null): ResidualQuestion => ({
  demand: demandOfFive,
  residualGmm,
  errorGmm,
  reclampingUm,
});
const SEVERITY = { within: 0, undecided: 1, exceeds: 2 };

describe('acceptance', () => {
  test.each([
    // X4: ISO 21940-14. U_per 5, ΔU 0.7.
    { residualGmm: 4.2, atBalancing: true, later: true, kind: 'within' },
    { residualGmm: 4.6, atBalancing: false, later: true, kind: 'undecided' },
    { residualGmm: 5.6, atBalancing: false, later: true, kind: 'undecided' },
    { residualGmm: 5.8, atBalancing: false, later: false, kind: 'exceeds' },
  ])('X4: $residualGmm ± 0.7 against 5 g·mm is $kind (ISO 21940-14)', ({ residualGmm, atBalancing, later, kind }) => {
    const reading = { residualGmm, errorGmm: 0.7, permissibleGmm: 5 };
    expect(acceptedAtBalancing(reading)).toBe(atBalancing);
    expect(acceptedAtLaterCheck(reading)).toBe(later);
    expect(judgeResidual(question(residualGmm)).kind).toBe(kind);
  });

  test('nonsense is refused', () => {
    const reading = { residualGmm: 1, errorGmm: 0.1, permissibleGmm: 5 };
    expect(() => acceptedAtBalancing({ ...reading, permissibleGmm: 0 })).toThrow(/permissibleGmm: expected/);
    expect(() => acceptedAtLaterCheck({ ...reading, errorGmm: Number.NaN })).toThrow(/errorGmm: expected/);
    expect(() => judgeResidual(question(-1))).toThrow(/residualGmm: expected/);
    expect(() => judgeResidual(question(1, -1))).toThrow(/errorGmm: expected/);
    expect(() => judgeResidual(question(1.7e308, 1.7e308))).toThrow(RangeError);
    expect(() => judgeResidual(question(1, 1, Number.NaN))).toThrow(/scatterUm: expected/);
  });
});

describe('verdict', () => {
  test('a miss says by how much, which grade it reaches and how fast it may turn for balance (ISO 21940-11)', () => {
    const verdict = judgeResidual(question(8, 1));
    expect(verdict.kind).toBe('exceeds');
    expect(verdict.permissibleGmm).toBeCloseTo(5, 12);
    expect(verdict.marginGmm).toBeCloseTo(-4, 12);
    expect(verdict.factor).toBeCloseTo(1.6, 12);
    expect(verdict.factorWithError).toBeCloseTo(1.8, 12);
    expect(verdict.gradeReachedMmS).toBeCloseTo(4, 12);
    expect(verdict.gradeReachedWithErrorMmS).toBeCloseTo(4.5, 12);
    expect(verdict.standardGradeMetMmS).toBe(6.3);
    expect(verdict.highestSpeedRpm).toBeCloseTo((GRADE_CONSTANT * 5) / 8, 6);
    expect(verdict.highestSpeedWithErrorRpm).toBeCloseTo((GRADE_CONSTANT * 5) / 9, 6);
    expect(verdict.showability).toBeNull();
  });

  test('3 g·mm against 3.18 does not exceed (ISO 21940-11: 2 kg, 15 000 rpm, G2.5)', () => {
    const demand = { massKg: 2, serviceSpeedRpm: 15_000, gradeMmS: 2.5 };
    expect(judgeResidual({ demand, residualGmm: 3, errorGmm: 0, reclampingUm: null }).kind).toBe('within');
  });

  test('on the limit to the last bit it is within; one bit above, without error, it exceeds', () => {
    const limit = judgeResidual(question(0, 0)).permissibleGmm;
    expect(judgeResidual(question(limit, 0)).kind).toBe('within');
    expect(judgeResidual(question(limit * (1 + Number.EPSILON), 0)).kind).toBe('exceeds');
  });

  test.each([
    { name: 'near the limit', ask: question(4.9, 0.7), cause: 'measuring-error' },
    { name: 'a bench too coarse for the limit', ask: question(0, 6), cause: 'error-too-large' },
    { name: 'an interface that scatters by more than e_per', ask: question(0.1, 0.7, 3), cause: 'reclamping-scatter' },
  ])('$name is undecided by $cause', ({ ask, cause }) => {
    expect(judgeResidual(ask)).toMatchObject({ kind: 'undecided', cause });
  });

  test('R2: an assembly is not held for ever for what the interface does (ISO 21940-11)', () => {
    const demand = { massKg: 1.2, serviceSpeedRpm: 24_000, gradeMmS: 2.5 };
    const ask = { demand, errorGmm: 0.2, reclampingUm: 2 };
    expect(judgeResidual({ ...ask, residualGmm: 2 })).toMatchObject({ kind: 'undecided', cause: 'reclamping-scatter' });
    // Far more than scatter and limit together is the assembly's own doing.
    const verdict = judgeResidual({ ...ask, residualGmm: 3.7 });
    expect(verdict.kind).toBe('exceeds');
    expect(verdict.errorGmm).toBe(2.4);
    expect(verdict.showability?.kind).toBe('cannot-be-shown-at-this-speed');
  });

  test('no residual and no error set no bound on the speed', () => {
    expect(judgeResidual(question(0, 0))).toMatchObject({
      kind: 'within',
      highestSpeedRpm: null,
      highestSpeedWithErrorRpm: null,
    });
  });
});

describe('verdict, for any numbers', () => {
  const sizes = fc.double({ min: 0, max: 50, noNaN: true });
  const errors = fc.double({ min: 0, max: 20, noNaN: true });
  const scatters = fc.option(fc.double({ min: 0, max: 12, noNaN: true }));
  const demands = fc.record({
    massKg: fc.double({ min: 0.1, max: 30, noNaN: true }),
    serviceSpeedRpm: fc.double({ min: 500, max: 60_000, noNaN: true }),
    gradeMmS: fc.constantFrom(0.4, 1, 2.5, 6.3, 16),
  });
  const questions = fc.record({ demand: demands, residualGmm: sizes, errorGmm: errors, reclampingUm: scatters });
  const severityOf = (ask: ResidualQuestion): number => SEVERITY[judgeResidual(ask).kind];

  test('more residual never makes it better', () => {
    fc.assert(
      fc.property(questions, sizes, (ask, more) => {
        expect(severityOf({ ...ask, residualGmm: ask.residualGmm + more })).toBeGreaterThanOrEqual(severityOf(ask));
      }),
    );
  });

  test('more speed never makes it better, nor does a finer grade', () => {
    fc.assert(
      fc.property(questions, fc.double({ min: 1, max: 5, noNaN: true }), (ask, times) => {
        const { demand } = ask;
        const faster = { ...demand, serviceSpeedRpm: demand.serviceSpeedRpm * times };
        const finer = { ...demand, gradeMmS: demand.gradeMmS / times };
        expect(severityOf({ ...ask, demand: faster })).toBeGreaterThanOrEqual(severityOf(ask));
        expect(severityOf({ ...ask, demand: finer })).toBeGreaterThanOrEqual(severityOf(ask));
      }),
    );
  });

  test('more error only ever takes certainty away', () => {
    fc.assert(
      fc.property(questions, errors, (ask, more) => {
        const before = judgeResidual(ask).kind;
        const after = judgeResidual({ ...ask, errorGmm: ask.errorGmm + more }).kind;
        expect([before, 'undecided']).toContain(after);
      }),
    );
  });

  test('what cannot be shown is never called within', () => {
    fc.assert(
      fc.property(questions, (ask) => {
        const verdict = judgeResidual(ask);
        fc.pre(verdict.showability?.kind === 'cannot-be-shown-at-this-speed');
        expect(verdict.kind).not.toBe('within');
      }),
    );
  });

  test('at the careful highest speed it is within, a little above it no longer', () => {
    fc.assert(
      fc.property(questions, (ask) => {
        const speedRpm = judgeResidual(ask).highestSpeedWithErrorRpm;
        fc.pre(speedRpm !== null && speedRpm < 1e12);
        const at = (times: number) =>
          judgeResidual({ ...ask, demand: { ...ask.demand, serviceSpeedRpm: (speedRpm ?? 1) * times } }).kind;
        expect(at(1 - 1e-9)).toBe('within');
        expect(at(1 + 1e-9)).not.toBe('within');
      }),
    );
  });
});
