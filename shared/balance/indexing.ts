// Indexing (ISO 21940-14): turning the assembly against the bench spindle tells its own unbalance from the bench's.
import { expectFinite, finiteOutcome } from './input-guard.ts';
import { fromCartesian, toCartesian, unitDirection, type UnbalanceVector } from './vector.ts';

/**
 * Whose reference the reading's angle counts from. Rotor frame: the assembly's mark, so the bench's part seems to
 * turn. Machine frame: the bench spindle's mark, so the assembly's part turns.
 */
export type IndexingFrame = 'rotor' | 'machine';

/** One reading with the assembly turned by `turnDeg` (counter-clockwise) against the bench spindle. */
export interface IndexedReading {
  readonly turnDeg: number;
  readonly unbalance: UnbalanceVector;
}

/** What the indexed readings say. */
export interface IndexingResult {
  /** The assembly's own unbalance, from the assembly's mark. */
  readonly assembly: UnbalanceVector;
  /** The part of bench spindle and adapter, from the bench spindle's mark. Trended, it tells when a bench drifts. */
  readonly bench: UnbalanceVector;
  /** Standard deviation of one reading about the fit, g·mm; null with two readings, which always fit. */
  readonly scatterGmm: number | null;
  /** The farthest reading from the fit, g·mm; null with two readings. */
  readonly scatterMaxGmm: number | null;
}

/** More positions than this say nothing new and are refused. */
export const INDEXING_READINGS_MAX = 72;

/**
 * 1 − |mean of the turns' unit vectors|²: 1 for equally spaced turns, 0 when all turns are alike. Below this, errors
 * of the readings come out more than twice as large in the parts as they need; two readings 60° apart lie on it.
 */
const SEPARATION_MIN = 0.25;

function meanTurn(turnsDeg: readonly number[]): { readonly x: number; readonly y: number } {
  let x = 0;
  let y = 0;
  for (const turnDeg of turnsDeg) {
    const direction = unitDirection(turnDeg);
    x += direction.x;
    y += direction.y;
  }
  return { x: x / turnsDeg.length, y: y / turnsDeg.length };
}

function separationOf(mean: { readonly x: number; readonly y: number }): number {
  return 1 - (mean.x * mean.x + mean.y * mean.y);
}

/**
 * Whether readings at these turns (degrees) can tell assembly and bench apart: 2 … 72 readings, turned far enough
 * against each other. Callers ask this before resolveIndexing. Throws a RangeError for a non-finite turn.
 */
export function turnsTellApart(turnsDeg: readonly number[]): boolean {
  if (turnsDeg.length < 2 || turnsDeg.length > INDEXING_READINGS_MAX) return false;
  return separationOf(meanTurn(turnsDeg)) >= SEPARATION_MIN - 1e-12;
}

/**
 * Splits indexed readings into the assembly's part and the bench's part by least squares. With equally spaced turns
 * this is the discrete Fourier component: half the difference and half the sum for 0° and 180°. Repeats at one turn
 * are welcome. Source: ISO 21940-14 for the method; the split is plain algebra.
 * Throws a RangeError for a non-finite number, a negative amount, or turns that cannot tell the two apart.
 */
export function resolveIndexing(frame: IndexingFrame, readings: readonly IndexedReading[]): IndexingResult {
  const turnsDeg = readings.map((reading) => reading.turnDeg);
  for (const turnDeg of turnsDeg) expectFinite(turnDeg, 'turnDeg');
  if (!turnsTellApart(turnsDeg)) {
    throw new RangeError(
      `turnDeg: expected 2 to ${INDEXING_READINGS_MAX} readings turned well apart (0 and 180, say), came ${turnsDeg.length}` +
        ` at ${turnsDeg.slice(0, 8).join(', ')}`,
    );
  }
  // In the rotor frame it is the bench's part that turns, and backwards; the algebra is the same.
  const sense = frame === 'machine' ? 1 : -1;
  const split = splitTurning(readings.map((reading) => ({ ...reading, turnDeg: sense * reading.turnDeg })));
  const [assembly, bench] = frame === 'machine' ? [split.turning, split.still] : [split.still, split.turning];
  return { assembly, bench, scatterGmm: split.scatterGmm, scatterMaxGmm: split.scatterMaxGmm };
}

interface TurningSplit {
  readonly still: UnbalanceVector;
  readonly turning: UnbalanceVector;
  readonly scatterGmm: number | null;
  readonly scatterMaxGmm: number | null;
}

/** Least squares for V = still + turning·e^(i·turn), in complex numbers written out. */
function splitTurning(readings: readonly IndexedReading[]): TurningSplit {
  const count = readings.length;
  const rows = readings.map(({ turnDeg, unbalance }) => ({
    turn: unitDirection(turnDeg),
    value: toCartesian(unbalance),
  }));
  let sumX = 0;
  let sumY = 0;
  let backX = 0;
  let backY = 0;
  for (const { turn, value } of rows) {
    sumX += value.xGmm;
    sumY += value.yGmm;
    backX += value.xGmm * turn.x + value.yGmm * turn.y;
    backY += value.yGmm * turn.x - value.xGmm * turn.y;
  }
  const meanX = sumX / count;
  const meanY = sumY / count;
  const mean = meanTurn(readings.map((reading) => reading.turnDeg));
  const separation = separationOf(mean);
  const turningX = (backX / count - (mean.x * meanX + mean.y * meanY)) / separation;
  const turningY = (backY / count - (mean.x * meanY - mean.y * meanX)) / separation;
  const stillX = meanX - (turningX * mean.x - turningY * mean.y);
  const stillY = meanY - (turningX * mean.y + turningY * mean.x);
  const misses = rows.map(({ turn, value }) =>
    Math.hypot(
      value.xGmm - stillX - (turningX * turn.x - turningY * turn.y),
      value.yGmm - stillY - (turningX * turn.y + turningY * turn.x),
    ),
  );
  return {
    still: fromCartesian({ xGmm: stillX, yGmm: stillY }),
    turning: fromCartesian({ xGmm: turningX, yGmm: turningY }),
    // Two vectors are fitted, so two readings' worth of freedom is spent.
    scatterGmm: count > 2 ? finiteOutcome(Math.hypot(...misses) / Math.sqrt(count - 2), 'scatterGmm') : null,
    scatterMaxGmm: count > 2 ? Math.max(...misses) : null,
  };
}
