// Whether the probabilities of causes mean what they say: of those that were given so much, how many came true.
import type { ScenarioVerdict } from './verdict.ts';

const BINS = 10;

export interface CalibrationRow {
  readonly from: number;
  readonly to: number;
  readonly shares: number;
  readonly meanProbability: number;
  readonly came: number;
}

export interface Calibration {
  readonly rows: readonly CalibrationRow[];
  /** Mean square of probability less what came (G. W. Brier 1950), over all shares of all causes. */
  readonly brier: number;
  readonly shares: number;
}

/** Of the last word about each fault, and of each hold for nothing, where no cause came true. */
export function calibrationOf(verdicts: readonly ScenarioVerdict[]): Calibration {
  const all = verdicts.flatMap(({ faults, forNothing }) => [
    ...faults.flatMap(({ told }) => told?.shares ?? []),
    ...forNothing.flatMap(({ shares }) => shares),
  ]);
  const rows = Array.from({ length: BINS }, (_, bin) => {
    const [from, to] = [bin / BINS, (bin + 1) / BINS];
    const own = all.filter(({ probability }) => probability >= from && (probability < to || to === 1));
    return {
      from,
      to,
      shares: own.length,
      meanProbability: own.reduce((sum, { probability }) => sum + probability, 0) / Math.max(1, own.length),
      came: own.filter(({ came }) => came).length,
    };
  });
  const squares = all.reduce((sum, { probability, came }) => sum + (probability - (came ? 1 : 0)) ** 2, 0);
  return {
    rows: rows.filter(({ shares }) => shares > 0),
    brier: squares / Math.max(1, all.length),
    shares: all.length,
  };
}

/** A median of delays is endless where half of the faults were not found. */
export const briefly = (value: number): string => (value === Infinity ? 'endless' : value.toFixed(3));
