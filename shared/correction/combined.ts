// Two methods in the same plane: coarse by one, fine by the other, with as little material as reaches.
//
// Not the coarse setting that comes nearest by itself, but the cheapest that brings the rest into the reach of the fine
// method and leaves, with that method's best setting, something that is within. Of the settings that cost the same the
// one that leaves the least.
import type { CorrectionFeature } from '../messages/index.ts';
import type { SearchBudget } from './best-place.ts';
import { inTurn, type Candidate } from './candidate.ts';
import { coarsePlaces, coarseScrews, restAfter, type CoarseSetting } from './coarse-settings.ts';
import { fineMethodOf, type FineAnswer, type FineMethod } from './fine-methods.ts';
import { isPlaceFeature, isRemoval } from './place-kinds.ts';
import type { PlaceTask } from './place-candidates.ts';
import { placeSpaceOf } from './place-space.ts';
import type { SearchPurse } from './search-purse.ts';
import { severalThenFine, worstLeft } from './several-then-fine.ts';

/** The best of each pair of features that can follow each other. */
export function combinedCandidates(
  features: readonly CorrectionFeature[],
  task: PlaceTask,
  purse: SearchPurse,
): readonly Candidate[] {
  return features.flatMap((fineFeature) => {
    const coarse = features.filter((feature) => feature !== fineFeature && mayBegin(feature, fineFeature));
    const fine = coarse.length === 0 ? null : fineMethodOf(fineFeature, task.wanted);
    if (fine === null) return [];
    return coarse.flatMap((feature) => purse.spend((budget) => ofPair(feature, fine, task, budget)));
  });
}

/** One coarse place, or one or two screws, then the fine method; where that is not enough several places. */
function ofPair(
  feature: CorrectionFeature,
  fine: FineMethod,
  task: PlaceTask,
  budget: SearchBudget,
): readonly Candidate[] {
  const one = combine(() => settingsOf(feature, task, fine.reachGmm), fine, task, budget);
  if (one !== null && task.limitGmm !== null && worstLeft(one, task) <= task.limitGmm) return [one];
  const several = isPlaceFeature(feature) ? severalThenFine(placeSpaceOf(feature), fine, task, budget) : null;
  return [one, several].filter((candidate) => candidate !== null);
}

/** How many pairs of features can follow each other. */
export function pairsIn(features: readonly CorrectionFeature[]): number {
  const finishing = features.filter((fine) => !isRemoval(fine));
  return finishing.reduce(
    (pairs, fine) => pairs + features.filter((one) => one !== fine && mayBegin(one, fine)).length,
    0,
  );
}

/** What removes begins; of what can be taken back screws begin and rings finish. */
function mayBegin(coarse: CorrectionFeature, fine: CorrectionFeature): boolean {
  if (isRemoval(coarse)) return true;
  return fine.kind === 'rings' && coarse.kind !== 'rings';
}

function settingsOf(
  feature: CorrectionFeature,
  { wanted, limitGmm }: PlaceTask,
  reachGmm: number,
): Iterable<CoarseSetting> {
  switch (feature.kind) {
    case 'rings':
      return [];
    case 'set-screws':
      return coarseScrews(feature);
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return coarsePlaces(placeSpaceOf(feature), wanted, reachGmm + (limitGmm ?? Infinity));
  }
}

interface Pairing {
  readonly setting: CoarseSetting;
  readonly answer: FineAnswer;
  readonly worst: number;
}

function combine(
  settings: () => Iterable<CoarseSetting>,
  fine: FineMethod,
  task: PlaceTask,
  budget: SearchBudget,
): Candidate | null {
  const inReach = bestPairing(settings(), fine, task, budget, { outOfReach: false, known: null });
  const isWithin = inReach !== null && task.limitGmm !== null && inReach.worst <= task.limitGmm;
  const best = isWithin ? inReach : bestPairing(settings(), fine, task, budget, { outOfReach: true, known: inReach });
  if (best === null) return null;
  const fineCandidate = best.answer.candidate();
  if (fineCandidate.steps.length === 0) return null;
  return { ...inTurn(best.setting.candidate(), fineCandidate), exact: best.answer.exact && budget.left > 0 };
}

interface Pass {
  readonly outOfReach: boolean;
  readonly known: Pairing | null;
}

/** In rising cost; the first cost with something within ends it, where the fine method reaches all the rest. */
function bestPairing(
  settings: Iterable<CoarseSetting>,
  fine: FineMethod,
  { wanted, errorGmm, limitGmm }: PlaceTask,
  budget: SearchBudget,
  { outOfReach, known }: Pass,
): Pairing | null {
  let best = known;
  let enoughAt: number | null = null;
  for (const setting of settings) {
    if (budget.left <= 0 || (enoughAt !== null && setting.cost > enoughAt)) break;
    budget.left -= 1;
    const rest = restAfter(wanted, setting);
    const least = fine.least(rest);
    // What the fine method cannot even bring near the limit is not worth asking for.
    if (least > 0 !== outOfReach || least > (limitGmm ?? Infinity)) continue;
    const coarse2 = errorGmm ** 2 + setting.error2;
    if (least + Math.sqrt(coarse2 + fine.error2Min) >= (best?.worst ?? Infinity)) continue;
    const answer = fine.best(rest, coarse2, budget);
    const worst = answer.residualGmm + Math.sqrt(coarse2 + answer.error2);
    if (worst >= (best?.worst ?? Infinity)) continue;
    best = { setting, answer, worst };
    if (!outOfReach && limitGmm !== null && worst <= limitGmm) enoughAt = setting.cost;
  }
  return best;
}
