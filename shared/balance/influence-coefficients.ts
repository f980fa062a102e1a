// What an unbalance in a plane does to the vibration at each sensor, learned from trial runs in the machine.
import { conditioningOf, solveLeastSquares, type Columns, type Conditioning } from './complex-least-squares.ts';
import { conjugate, fromPolar, minus, plus, sizeOf, ZERO, type Complex } from './complex.ts';
import { expectFinite, expectNotNegative } from './input-guard.ts';
import { normaliseAngleDeg, toCartesian, type UnbalanceVector } from './vector.ts';

/** One sensor's synchronous vibration: an amplitude in any one unit, a phase in degrees against the tacho mark. */
export interface VibrationVector {
  readonly amplitude: number;
  readonly phaseDeg: number;
}

/**
 * How phase runs against the rotor's angle scale. Lead: a mass moved on by 10° gives a phase 10° larger. Lag: 10°
 * smaller. Taken the wrong way round the correction lands at the mirrored angle, so it is always told, never guessed.
 */
export type PhaseSense = 'lead' | 'lag';

/** A run with a trial mass: which plane (0 or 1), what was added there, what every sensor then read. */
export interface TrialRun {
  readonly plane: 0 | 1;
  readonly mass: UnbalanceVector;
  readonly readings: readonly VibrationVector[];
  /** Whether the mass stays on in the runs after this one. */
  readonly leftOn: boolean;
}

export interface TrialRuns {
  readonly phaseSense: PhaseSense;
  /** One reading per sensor, as the rotor was. */
  readonly initial: readonly VibrationVector[];
  readonly trials: readonly TrialRun[];
}

export const SENSORS_MAX = 32;
export const TRIALS_MAX = 32;

/** A trial that changes amplitude by less and phase by less says little. Common practice, no source. */
export const WEAK_AMPLITUDE_SHARE = 0.3;
export const WEAK_PHASE_DEG = 30;

/** Columns of influence coefficients, a plane each, in the sense `lead`; in amplitude per g·mm. */
export interface InfluenceCoefficients {
  readonly columns: Columns;
  readonly conditioning: Conditioning;
  /** Trial runs, from 0, that changed next to nothing at every sensor. */
  readonly weakTrials: readonly number[];
}

/** A reading as a complex number in the sense `lead`. Throws a RangeError for a negative or non-finite number. */
export function toLead(reading: VibrationVector, phaseSense: PhaseSense): Complex {
  expectNotNegative(reading.amplitude, 'amplitude');
  expectFinite(reading.phaseDeg, 'phaseDeg');
  const value = fromPolar(reading.amplitude, reading.phaseDeg);
  return phaseSense === 'lead' ? value : conjugate(value);
}

/** Back from the sense `lead` to a reading in the sense of the instrument. */
export function fromLead(value: Complex, phaseSense: PhaseSense): VibrationVector {
  const amplitude = sizeOf(value);
  if (amplitude === 0) return { amplitude, phaseDeg: 0 };
  const phaseDeg = (Math.atan2(value.im, value.re) * 180) / Math.PI;
  return { amplitude, phaseDeg: normaliseAngleDeg(phaseSense === 'lead' ? phaseDeg : -phaseDeg) };
}

export function complexOf(unbalance: UnbalanceVector): Complex {
  const { xGmm, yGmm } = toCartesian(unbalance);
  return { re: xGmm, im: yGmm };
}

/**
 * Influence coefficients of one or two planes from any number of trial runs and sensors, by least squares. Masses left
 * on count in the runs after theirs. Source: ISO 21940-13 for the method; the algebra is that of textbooks.
 * Throws a RangeError for a negative or non-finite number, sensors that differ in number from run to run, too many,
 * no trial, or a plane whose trial mass is zero or missing.
 */
export function influenceCoefficients(runs: TrialRuns): InfluenceCoefficients {
  expectRuns(runs);
  const { phaseSense, initial, trials } = runs;
  const before = initial.map((reading) => toLead(reading, phaseSense));
  const states = statesOf(trials);
  const planes = trials.some(({ plane }) => plane === 1) ? 2 : 1;
  const first = states.map((state) => state[0]);
  const second = states.map((state) => state[1]);
  const masses: Columns = planes === 1 ? [first] : [first, second];
  const rows = before.map((value, sensor) => {
    const changes = trials.map(({ readings }) => minus(toLead(readingOf(readings, sensor), phaseSense), value));
    const row = solveLeastSquares(masses, changes);
    if (row === null)
      throw new RangeError('trials: expected masses that tell the two planes apart, came only ones in step');
    return row;
  });
  const columnOf = (plane: number): readonly Complex[] => rows.map((row) => row[plane] ?? ZERO);
  const columns: Columns = planes === 1 ? [columnOf(0)] : [columnOf(0), columnOf(1)];
  if (columns.some((column) => column.every((value) => sizeOf(value) === 0))) {
    throw new RangeError('trials: expected a trial mass that changes the vibration, came one that changed nothing');
  }
  return { columns, conditioning: conditioningOf(columns), weakTrials: weakTrialsOf(runs) };
}

/** What is on in each run, per plane. */
function statesOf(trials: readonly TrialRun[]): readonly (readonly [Complex, Complex])[] {
  let kept: readonly [Complex, Complex] = [ZERO, ZERO];
  return trials.map(({ plane, mass, leftOn }) => {
    const added = complexOf(mass);
    const state = [plane === 0 ? plus(kept[0], added) : kept[0], plane === 1 ? plus(kept[1], added) : kept[1]] as const;
    if (leftOn) kept = state;
    return state;
  });
}

/** Whether each run changed any sensor's amplitude by 30 % or phase by 30° against the run that it builds on. */
function weakTrialsOf({ initial, trials }: TrialRuns): readonly number[] {
  let base = initial;
  const weak: number[] = [];
  for (const [index, trial] of trials.entries()) {
    const told = trial.readings.some((reading, sensor) => {
      const was = readingOf(base, sensor);
      if (was.amplitude === 0) return reading.amplitude > 0;
      const turned = normaliseAngleDeg(reading.phaseDeg - was.phaseDeg);
      return (
        Math.abs(reading.amplitude / was.amplitude - 1) >= WEAK_AMPLITUDE_SHARE ||
        Math.min(turned, 360 - turned) >= WEAK_PHASE_DEG
      );
    });
    if (!told) weak.push(index);
    if (trial.leftOn) base = trial.readings;
  }
  return weak;
}

function readingOf(readings: readonly VibrationVector[], sensor: number): VibrationVector {
  const reading = readings[sensor];
  if (reading === undefined) throw new RangeError(`readings: expected one of sensor ${sensor + 1}`);
  return reading;
}

function expectRuns({ initial, trials }: TrialRuns): void {
  if (initial.length === 0 || initial.length > SENSORS_MAX) {
    throw new RangeError(`initial: expected readings of 1 to ${SENSORS_MAX} sensors, came ${initial.length}`);
  }
  if (trials.length === 0 || trials.length > TRIALS_MAX) {
    throw new RangeError(`trials: expected 1 to ${TRIALS_MAX} of them, came ${trials.length}`);
  }
  for (const [index, { readings }] of trials.entries()) {
    if (readings.length !== initial.length) {
      throw new RangeError(`trials[${index}]: expected readings of ${initial.length} sensors, came ${readings.length}`);
    }
  }
  const planes = trials.some(({ plane }) => plane === 1) ? ([0, 1] as const) : ([0] as const);
  const bare = planes.find((plane) => !trials.some((trial) => trial.plane === plane && trial.mass.gmm > 0));
  if (bare !== undefined) throw new RangeError(`trials: expected a trial mass above 0 in plane ${bare + 1}`);
  if (initial.length < planes.length) {
    throw new RangeError(
      `initial: expected at least as many sensors as planes (${planes.length}), came ${initial.length}`,
    );
  }
}
