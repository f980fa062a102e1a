// Of all drafts the ones that are worth a person's eyes, best first.
import { ENOUGH_SHARE } from './limits.ts';
import type { Draft } from './plan.ts';
import { better } from './rank.ts';

/** Leaving a fifth less is worth a further place or screw, where the first does not leave plenty of room. */
const CLEARLY_LESS = 0.8;
/** What does not help enough to be undecided must at least take a fifth away to be shown. */
const WORTH_DOING = 0.8;
/** Two methods in the same plane are shown beside one when they remove a third less. */
const LESS_REMOVED = 0.7;

/** Best first. `asItIs` is the plan in which nothing is done. */
export function chosenDrafts(drafts: readonly Draft[], asItIs: Draft): readonly Draft[] {
  const helpful = drafts.filter((draft) => {
    if (draft.stepCount === 0) return false;
    const gains = draft.verdict !== asItIs.verdict && better(draft, asItIs) < 0;
    return gains || draft.worst <= WORTH_DOING * asItIs.worst;
  });
  const groups = new Map<string, Draft[]>();
  for (const draft of helpful) groups.set(methodsOf(draft), [...(groups.get(methodsOf(draft)) ?? []), draft]);
  const perMethod = [...groups.values()].flatMap(worthShowing);
  const enough = perMethod.some(({ verdict }) => verdict === 'within');
  const singles = perMethod.filter((draft) => !isCombined(draft));
  const kept = perMethod.filter((draft) => {
    if (enough && draft.verdict === 'exceeds') return false;
    return !isCombined(draft) || isWorthCombining(draft, singles);
  });
  return kept.filter((draft) => !kept.some((other) => makesNeedless(other, draft))).toSorted(better);
}

/**
 * What is within with some of the methods makes more of them needless, where they take no less away: a plane that is
 * within is left alone. And where all can be taken out with the same methods the static part alone is no plan.
 */
function makesNeedless(other: Draft, draft: Draft): boolean {
  if (other.verdict !== draft.verdict) return false;
  const [own, others] = [featureKeys(draft), featureKeys(other)];
  if (others.some((key) => !own.includes(key))) return false;
  if (others.length === own.length) return draft.aim === 'static' && other.aim === 'all' && other.verdict === 'within';
  return draft.verdict === 'within' && other.removedG <= draft.removedG && other.stepCount <= draft.stepCount;
}

const featureKeys = ({ parts }: Draft): readonly string[] =>
  parts.flatMap(({ location, candidate }) => candidate.features.map(({ featureId }) => `${location.key}:${featureId}`));

const methodsOf = ({ aim, parts }: Draft): string => {
  const methods = parts.map(
    ({ location, candidate }) => `${location.key}:${candidate.features.map((f) => f.featureId).join()}`,
  );
  return [aim, ...methods].join('|');
};

export const isCombined = ({ parts }: Draft): boolean => parts.some(({ candidate }) => candidate.features.length > 1);

/** Of one method the plan with the fewest steps, and the one that leaves the least where that is clearly less. */
function worthShowing(drafts: readonly Draft[]): readonly Draft[] {
  const ranked = drafts.toSorted(better);
  const best = ranked[0];
  if (best === undefined) return [];
  const alike = ranked.filter(({ verdict }) => verdict === best.verdict);
  const least = alike.reduce((a, b) => (b.worst < a.worst ? b : a));
  const plenty = best.verdict === 'within' && best.worst <= ENOUGH_SHARE;
  return !plenty && least.worst < CLEARLY_LESS * best.worst ? [best, least] : [best];
}

function isWorthCombining(draft: Draft, singles: readonly Draft[]): boolean {
  const rivals = singles.filter(({ verdict }) => verdict === draft.verdict);
  const above = singles.some((single) => single.verdict !== draft.verdict && better(single, draft) < 0);
  if (above) return false;
  return rivals.every(({ removedG }) => removedG > 0 && draft.removedG < LESS_REMOVED * removedG);
}
