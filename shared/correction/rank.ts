// Which plan stands before which, and why it is said to.
import type { Draft } from './plan.ts';
import { gmm, gmmWithError, grams } from './number-words.ts';
import { say, sayCount } from '../language/index.ts';

const VERDICT_ORDER = ['within', 'undecided', 'cannot-judge', 'exceeds'] as const;

/** Differences below these are none: a hundredth of a gram, a thousandth of the limit. */
const SAME_REMOVED_G = 0.01;

/**
 * Predicted within before undecided before exceeding; of those what can be taken back before what removes material;
 * then the least removed, the fewest steps, and the least that is left.
 */
export function better(a: Draft, b: Draft): number {
  const verdicts = VERDICT_ORDER.indexOf(a.verdict) - VERDICT_ORDER.indexOf(b.verdict);
  if (verdicts !== 0) return verdicts;
  // What is not enough anyway: at least the whole within, then the more it takes away the better.
  if (a.verdict === 'exceeds') {
    return VERDICT_ORDER.indexOf(a.whole.verdict) - VERDICT_ORDER.indexOf(b.whole.verdict) || a.worst - b.worst;
  }
  const removed = a.removedG - b.removedG;
  // Where nothing is demanded there is no enough: what leaves less comes first, but still behind what removes nothing.
  if (a.verdict === 'cannot-judge' && (a.removedG === 0) === (b.removedG === 0)) return a.worst - b.worst;
  if ((a.removedG === 0) !== (b.removedG === 0) || Math.abs(removed) > SAME_REMOVED_G) return removed;
  return a.stepCount - b.stepCount || a.worst - b.worst;
}

/** Why it stands where it stands, by itself and against the one before it. */
export function becauseOf(draft: Draft, before: Draft | null): string {
  const others = [removalWords(draft), before === null ? null : behindWords(draft, before)]
    .filter((words) => words !== null)
    .join('; ');
  if (draft.verdict !== 'cannot-judge') return `${verdictWords(draft.verdict, draft)}; ${others}`;
  const { residualGmm, errorGmm } = draft.whole;
  return say`${gmmWithError(residualGmm, errorGmm)} left; nothing is demanded to judge it by; ${others}`;
}

function verdictWords(verdict: Exclude<Draft['verdict'], 'cannot-judge'>, { predicted, whole, parts }: Draft): string {
  const isProven = parts.every(({ candidate }) => candidate.exact);
  const all = [...predicted, whole];
  const decisive = all.find((one) => one.verdict === verdict) ?? whole;
  const amount = gmmWithError(decisive.residualGmm, decisive.errorGmm);
  const where = decisive === whole ? say`the whole: ${amount}` : say`plane ${decisive.plane}: ${amount}`;
  const left = predicted.length === 1 ? amount : where;
  const limit = gmm(decisive.permissibleGmm ?? 0);
  switch (verdict) {
    case 'within': {
      const tight = all.reduce((a, b) => (use(b) > use(a) ? b : a));
      const leaves = gmmWithError(tight.residualGmm, tight.errorGmm);
      return say`predicted within: ${leaves} left of ${gmm(tight.permissibleGmm ?? 0)} permitted`;
    }
    case 'undecided':
      return say`undecided: ${left} left lies about the ${limit} permitted`;
    case 'exceeds':
      return isProven
        ? say`not enough: ${left} left, ${limit} permitted`
        : say`as far as was searched not enough: ${left} left, ${limit} permitted`;
  }
}

const use = ({ residualGmm, errorGmm, permissibleGmm = Infinity }: Draft['whole']): number =>
  (residualGmm + errorGmm) / permissibleGmm;

function removalWords({ removedG, stepCount }: Draft): string {
  const steps = sayCount(stepCount, 'one step', '{0} steps');
  return `${removedG === 0 ? say`nothing is removed, it can be taken back` : say`${grams(removedG)} removed`}; ${steps}`;
}

function behindWords(draft: Draft, before: Draft): string | null {
  if (draft.verdict !== before.verdict) return null;
  if (draft.verdict === 'exceeds') return say`leaves more than the one before`;
  if (before.removedG === 0 && draft.removedG > 0) return say`behind what removes nothing`;
  if (draft.removedG - before.removedG > SAME_REMOVED_G) return say`removes more than the one before`;
  if (draft.stepCount > before.stepCount) return say`more steps than the one before`;
  return say`leaves more than the one before`;
}
