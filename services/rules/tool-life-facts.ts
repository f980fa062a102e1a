// What is remembered of cutters' lives: plain data in the floor, replaced whole.
import type { Instant } from '../../shared/time.ts';

export interface CutterLife {
  readonly at: Instant;
  readonly minutes: number;
  /** Worn or broken; else it was cut short. */
  readonly isEnd: boolean;
  /** Residual ÷ permissible, of the part that governs. */
  readonly share: number;
}

/** In the floor by the cutter's name among the parts of a build. */
export interface CutterLives {
  readonly cutter: string;
  /** Oldest first, at most LIVES_PER_CUTTER_MAX. */
  readonly lives: readonly CutterLife[];
  /** Told of builds whose residual was not known. */
  readonly withoutResidual: number;
}
