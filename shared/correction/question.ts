// What correction advice is asked from: what was measured, where it can be corrected, and what must be reached.
import type { CorrectionFeature } from '../messages/index.ts';
import type { UnbalanceVector } from '../balance/index.ts';

/** One measured plane: unbalance in g·mm from the assembly's mark, its ΔU, and where it lies along the axis in mm. */
export interface PlaneToCorrect {
  readonly name: string;
  readonly unbalance: UnbalanceVector;
  readonly errorGmm: number;
  /** What this plane may keep, g·mm; null where nothing is demanded. */
  readonly permissibleGmm: number | null;
  readonly positionMm: number | null;
}

/** One or two planes, and what the whole (their vector sum) may keep. */
export interface CorrectionQuestion {
  readonly planes: readonly [PlaneToCorrect] | readonly [PlaneToCorrect, PlaneToCorrect];
  readonly wholeErrorGmm: number;
  readonly wholePermissibleGmm: number | null;
  /** mm along the axis; null where it is not known. */
  readonly centreOfMassMm: number | null;
  readonly features: readonly CorrectionFeature[];
  /** What the searches may spend; beyond it they give a first answer with its bound. */
  readonly searchStepsMax?: number;
}
