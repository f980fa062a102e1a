// How a layered decision begins and ends: the entry folded into a layer that the rules look into, then the gates told anew.
import type { Outcome } from '../../shared/outcomes.ts';
import type { Floor } from './floor.ts';
import { foldSlow, type SlowEntry } from './fold-entry.ts';
import { answerGates } from './gate-told.ts';
import { trialLayer, type TrialLayer } from './layer.ts';
import { Outcomes } from './raising.ts';

/** The layer to look into, and the outcomes so far. */
export interface Work {
  readonly layer: TrialLayer;
  readonly outcomes: Outcomes;
}

export function begin(floor: Floor, entry: SlowEntry): Work {
  const layer = trialLayer(floor);
  foldSlow(layer, entry);
  return { layer, outcomes: new Outcomes(layer, entry) };
}

export function finish({ layer, outcomes }: Work): readonly Outcome[] {
  answerGates(layer, outcomes);
  return outcomes.list;
}
