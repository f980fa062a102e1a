// Trim balancing in the machine: which unbalance to add in one or two planes, what is then left, and how far to believe it.
import { solveLeastSquares, type Columns } from './complex-least-squares.ts';
import { lengthOf, plus, scaled, times, ZERO, type Complex } from './complex.ts';
import { expectPositive } from './input-guard.ts';
import {
  complexOf,
  fromLead,
  influenceCoefficients,
  toLead,
  type InfluenceCoefficients,
  type TrialRuns,
  type VibrationVector,
} from './influence-coefficients.ts';
import { fromCartesian, sumUnbalance, turnUnbalance, type UnbalanceVector } from './vector.ts';

/**
 * Columns more alike than this tell the planes apart so badly that errors of the readings come out tenfold in the
 * masses: (1 + c)/(1 − c) is the square of that factor. Linear algebra; that tenfold is too much is common practice.
 */
export const COHERENCE_MAX = 0.98;

/** To what a person can set it; null: as it is. */
export interface SettingSteps {
  readonly amountGmm: number;
  readonly angleDeg: number;
}

/** What to add in a plane, exact and as it can be set, beside the trial masses that stay on. */
export interface PlaneSetting {
  readonly plane: 0 | 1;
  readonly exact: UnbalanceVector;
  readonly set: UnbalanceVector;
}

/** One way to correct, with the vibration that the coefficients predict at every sensor once it is set. */
export interface TrimWay {
  readonly settings: readonly PlaneSetting[];
  readonly predicted: readonly VibrationVector[];
  /** Length of the predicted vibration over all sensors by that before: 0 nothing is left, 1 nothing is gained. */
  readonly leftShare: number;
}

export type TrimWarning = 'weak-trial' | 'ill-conditioned' | 'planes-alike';

export interface TrimAnswer {
  readonly coefficients: InfluenceCoefficients;
  /** Null where two planes cannot be told apart with confidence: the sum can, and either plane alone. */
  readonly inAllPlanes: TrimWay | null;
  /** Of two planes each one alone; of one plane it is the same as above. */
  readonly inOnePlane: readonly TrimWay[];
  /** Vector sum over the planes of what must be added; null where even that is not determined. */
  readonly sum: UnbalanceVector | null;
  readonly warnings: readonly TrimWarning[];
}

/**
 * The corrections that make the predicted vibration least over all sensors: W = −A⁺·V. `steps` rounds them to what can
 * be set, and the prediction is made for what is set. Trial masses left on stay where they are; the answer is what to
 * add to them. Source: ISO 21940-13 for the method (textbook algebra). A prediction until it is measured again.
 * Throws a RangeError as influenceCoefficients does, and for a step that is not above 0.
 */
export function trimBalance(runs: TrialRuns, steps: SettingSteps | null): TrimAnswer {
  if (steps !== null) {
    expectPositive(steps.amountGmm, 'amountGmm');
    expectPositive(steps.angleDeg, 'angleDeg');
  }
  const coefficients = influenceCoefficients(runs);
  const { columns, conditioning } = coefficients;
  const trim: Trim = { runs, steps, kept: keptOn(runs), all: columns };
  const alike = conditioning.coherence !== null && conditioning.coherence > COHERENCE_MAX;
  const both = columns.length === 1 ? null : wayIn(trim, columns, [0, 1]);
  const alone = columns.map((column, plane) => wayIn(trim, [column], [plane === 0 ? 0 : 1]));
  const whole = columns.length === 1 ? (alone[0] ?? null) : both;
  const warnings: TrimWarning[] = [];
  if (coefficients.weakTrials.length > 0) warnings.push('weak-trial');
  if (alike) warnings.push(both === null ? 'planes-alike' : 'ill-conditioned');
  return {
    coefficients,
    inAllPlanes: alike ? null : whole,
    inOnePlane: alone.flatMap((way) => way ?? []),
    sum: whole === null ? null : sumUnbalance(whole.settings.map(({ exact }) => exact)),
    warnings,
  };
}

/**
 * The vibration at every sensor once these unbalances are added per plane to the rotor as the runs left it.
 * Throws a RangeError as influenceCoefficients does.
 */
export function predictedVibration(runs: TrialRuns, added: readonly UnbalanceVector[]): readonly VibrationVector[] {
  const { columns } = influenceCoefficients(runs);
  const initial = runs.initial.map((reading) => toLead(reading, runs.phaseSense));
  const standing = influenced(columns, initial, keptOn(runs));
  return influenced(columns, standing, added).map((value) => fromLead(value, runs.phaseSense));
}

interface Trim {
  readonly runs: TrialRuns;
  readonly steps: SettingSteps | null;
  readonly kept: readonly [UnbalanceVector, UnbalanceVector];
  readonly all: Columns;
}

function keptOn({ trials }: TrialRuns): readonly [UnbalanceVector, UnbalanceVector] {
  const of = (plane: 0 | 1): UnbalanceVector =>
    sumUnbalance(trials.filter((trial) => trial.leftOn && trial.plane === plane).map(({ mass }) => mass));
  return [of(0), of(1)];
}

/** The best that these planes can do; null where they cannot be told apart. */
function wayIn({ runs, steps, kept, all }: Trim, columns: Columns, planes: readonly (0 | 1)[]): TrimWay | null {
  const initial = runs.initial.map((reading) => toLead(reading, runs.phaseSense));
  // As it stands: the initial vibration and what the masses left on in any plane add to it.
  const standing = influenced(all, initial, kept);
  const solution = solveLeastSquares(
    columns,
    standing.map((value) => scaled(value, -1)),
  );
  if (solution === null) return null;
  const settings = planes.map((plane, at): PlaneSetting => {
    const { re, im } = solution[at] ?? ZERO;
    const exact = fromCartesian({ xGmm: re, yGmm: im });
    return { plane, exact, set: rounded(exact, steps) };
  });
  const predicted = influenced(
    columns,
    standing,
    settings.map(({ set }) => set),
  );
  const before = lengthOf(standing);
  return {
    settings,
    predicted: predicted.map((value) => fromLead(value, runs.phaseSense)),
    leftShare: before === 0 ? 0 : lengthOf(predicted) / before,
  };
}

function influenced(columns: Columns, vibration: readonly Complex[], added: readonly UnbalanceVector[]): Complex[] {
  return vibration.map((value, sensor) => {
    let sum = value;
    for (const [plane, column] of columns.entries()) {
      const mass = added[plane];
      if (mass !== undefined) sum = plus(sum, times(column[sensor] ?? ZERO, complexOf(mass)));
    }
    return sum;
  });
}

function rounded(exact: UnbalanceVector, steps: SettingSteps | null): UnbalanceVector {
  if (steps === null) return exact;
  const gmm = Math.round(exact.gmm / steps.amountGmm) * steps.amountGmm;
  const angleDeg = Math.round(exact.angleDeg / steps.angleDeg) * steps.angleDeg;
  return turnUnbalance({ gmm, angleDeg }, 0);
}
