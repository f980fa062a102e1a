// All ways to correct at one feature, by its kind.
import type { CorrectionFeature } from '../messages/index.ts';
import type { SearchBudget } from './best-place.ts';
import type { Candidate } from './candidate.ts';
import { placeCandidates } from './place-candidates.ts';
import { placeSpaceOf } from './place-space.ts';
import { ringCandidates } from './rings-candidate.ts';
import { screwCandidates, type ScrewTask } from './screw-candidates.ts';

export function candidatesAt(feature: CorrectionFeature, task: ScrewTask, budget: SearchBudget): readonly Candidate[] {
  switch (feature.kind) {
    case 'rings':
      return ringCandidates(feature, task.wanted, budget);
    case 'set-screws':
      return screwCandidates(feature, task, budget);
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return placeCandidates(placeSpaceOf(feature), task, budget);
  }
}
