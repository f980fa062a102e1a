// Judges a residual unbalance against what its grade permits at its service speed, with the measuring error counted.
import { gradeReachedMmS, highestSpeedAtGradeRpm, smallestStandardGradeMet } from './grade.ts';
import { expectNotNegative, expectPositive, finiteOutcome } from './input-guard.ts';
import { permissibleResidualGmm, permissibleSpecificUm, type BalanceDemand } from './permissible.ts';
import { showabilityOf, type Showability } from './reclamping.ts';

/** One residual (g·mm) with its measuring error ΔU (g·mm), and what it must meet. */
export interface ResidualQuestion {
  readonly demand: BalanceDemand;
  readonly residualGmm: number;
  readonly errorGmm: number;
  /** The interface's least reclamping scatter in µm; null where it is not known. */
  readonly reclampingUm: number | null;
}

/**
 * Why a verdict is undecided. Measuring error: the answer lies within ΔU of the limit, so measure again or correct
 * further. Error too large: ΔU alone is more than is permitted, so no reading of this bench could be within.
 * Reclamping scatter: the grade cannot be shown at this speed through this interface by anyone.
 */
export type UndecidedCause = 'measuring-error' | 'error-too-large' | 'reclamping-scatter';

/** All numbers of a verdict. `WithError` counts ΔU against the assembly: the careful figure, the one to act on. */
export interface VerdictNumbers {
  readonly demand: BalanceDemand;
  readonly residualGmm: number;
  /** ΔU as counted: never less than one reclamping's mass × scatter. */
  readonly errorGmm: number;
  readonly permissibleGmm: number;
  readonly permissibleSpecificUm: number;
  /** U_per − (U + ΔU): what is left to the limit; negative by so much as it misses being shown. */
  readonly marginGmm: number;
  /** U / U_per: above 1 it is the factor by which the reading misses. */
  readonly factor: number;
  readonly factorWithError: number;
  /** Grade G in mm/s reached at service speed. */
  readonly gradeReachedMmS: number;
  readonly gradeReachedWithErrorMmS: number;
  /** Finest standard grade met with ΔU counted; null when coarser than all. */
  readonly standardGradeMetMmS: number | null;
  /** Highest speed in rpm at which it meets its grade; null when balance sets no bound. Never a permitted speed. */
  readonly highestSpeedRpm: number | null;
  readonly highestSpeedWithErrorRpm: number | null;
  /** Null where the interface's scatter is not known. */
  readonly showability: Showability | null;
}

/** Within: U + ΔU ≤ U_per. Exceeds: U − ΔU > U_per. Undecided: neither can be said. */
export type Verdict =
  | ({ readonly kind: 'within' } & VerdictNumbers)
  | ({ readonly kind: 'exceeds' } & VerdictNumbers)
  | ({ readonly kind: 'undecided'; readonly cause: UndecidedCause } & VerdictNumbers);

/** One reading of a residual against its limit; all in g·mm. */
export interface AcceptanceQuestion {
  readonly residualGmm: number;
  readonly errorGmm: number;
  readonly permissibleGmm: number;
}

function expectAcceptanceQuestion(question: AcceptanceQuestion): void {
  expectNotNegative(question.residualGmm, 'residualGmm');
  expectNotNegative(question.errorGmm, 'errorGmm');
  expectPositive(question.permissibleGmm, 'permissibleGmm');
}

/**
 * Whether whoever balances may accept: U + ΔU ≤ U_per. Source: ISO 21940-14.
 * Throws a RangeError for a negative or non-finite number or a limit that is not above 0.
 */
export function acceptedAtBalancing(question: AcceptanceQuestion): boolean {
  expectAcceptanceQuestion(question);
  return question.residualGmm + question.errorGmm <= question.permissibleGmm;
}

/**
 * Whether whoever checks later may accept, with the checker's own ΔU: U − ΔU ≤ U_per. Source: ISO 21940-14.
 * Throws a RangeError for a negative or non-finite number or a limit that is not above 0.
 */
export function acceptedAtLaterCheck(question: AcceptanceQuestion): boolean {
  expectAcceptanceQuestion(question);
  return question.residualGmm - question.errorGmm <= question.permissibleGmm;
}

function causeOf(numbers: VerdictNumbers): UndecidedCause {
  if (numbers.showability?.kind === 'cannot-be-shown-at-this-speed') return 'reclamping-scatter';
  return numbers.errorGmm > numbers.permissibleGmm ? 'error-too-large' : 'measuring-error';
}

/**
 * Judges one residual. The error counted is never less than one reclamping's: averaging over clampings tells more
 * about the assembly, but nothing about the clamping in which it will run. So a grade that cannot be shown is never
 * called within, and an assembly is never called out for the interface's scatter alone.
 * Source: ISO 21940-11 for what is permitted, ISO 21940-14 for the rule of acceptance.
 * Throws a RangeError for a negative or non-finite number, or a mass, speed or grade that is not above 0.
 */
export function judgeResidual(question: ResidualQuestion): Verdict {
  const { demand, residualGmm } = question;
  expectNotNegative(residualGmm, 'residualGmm');
  expectNotNegative(question.errorGmm, 'errorGmm');
  const permissibleGmm = permissibleResidualGmm(demand);
  const showability =
    question.reclampingUm === null
      ? null
      : showabilityOf({
          gradeMmS: demand.gradeMmS,
          speedRpm: demand.serviceSpeedRpm,
          scatterUm: question.reclampingUm,
        });
  const errorGmm = Math.max(question.errorGmm, demand.massKg * (question.reclampingUm ?? 0));
  const numbers = {
    demand,
    residualGmm,
    errorGmm,
    permissibleGmm,
    showability,
    ...figuresOf(demand, residualGmm, errorGmm),
  };
  const acceptance = { residualGmm, errorGmm, permissibleGmm };
  if (!acceptedAtLaterCheck(acceptance)) return { kind: 'exceeds', ...numbers };
  const shown = acceptedAtBalancing(acceptance) && showability?.kind !== 'cannot-be-shown-at-this-speed';
  return shown ? { kind: 'within', ...numbers } : { kind: 'undecided', cause: causeOf(numbers), ...numbers };
}

/** The figures that follow from residual, error and demand. */
function figuresOf(
  demand: BalanceDemand,
  residualGmm: number,
  errorGmm: number,
): Omit<VerdictNumbers, 'demand' | 'residualGmm' | 'errorGmm' | 'permissibleGmm' | 'showability'> {
  const { massKg, gradeMmS, serviceSpeedRpm: speedRpm } = demand;
  const permissibleGmm = permissibleResidualGmm(demand);
  const worstGmm = finiteOutcome(residualGmm + errorGmm, 'residualGmm + errorGmm');
  const gradeReachedWithErrorMmS = gradeReachedMmS({ residualGmm: worstGmm, massKg, speedRpm });
  return {
    permissibleSpecificUm: permissibleSpecificUm(gradeMmS, speedRpm),
    marginGmm: permissibleGmm - worstGmm,
    factor: finiteOutcome(residualGmm / permissibleGmm, 'factor'),
    factorWithError: finiteOutcome(worstGmm / permissibleGmm, 'factorWithError'),
    gradeReachedMmS: gradeReachedMmS({ residualGmm, massKg, speedRpm }),
    gradeReachedWithErrorMmS,
    standardGradeMetMmS: smallestStandardGradeMet(gradeReachedWithErrorMmS),
    highestSpeedRpm: highestSpeedAtGradeRpm({ residualGmm, massKg, gradeMmS }),
    highestSpeedWithErrorRpm: highestSpeedAtGradeRpm({ residualGmm: worstGmm, massKg, gradeMmS }),
  };
}
