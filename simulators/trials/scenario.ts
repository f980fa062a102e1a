// What a trial lays over ordinary life, and what it knows of it.
import type { Instant } from '../../shared/time.ts';
import type { Fault } from '../faults.ts';
import type { Overlay } from '../overlay.ts';
import type { Plant } from '../plant.ts';

export interface TrialLabel extends Fault {
  /** From here on it can be seen by who knows what to look for; undefined where it stays below every limit. */
  readonly tellableFrom: Instant | undefined;
}

export interface Scenario {
  readonly plant: Plant;
  readonly overlay: Overlay;
  readonly labels: readonly TrialLabel[];
}

/** Labels of faults that show from their beginning on. */
export function shownAtOnce(faults: readonly Fault[]): TrialLabel[] {
  return faults.map((fault) => ({ ...fault, tellableFrom: fault.from }));
}
