// Goes on where an advice had to stop at a first answer for set screws, piece by piece, until it is proven.
import type { Advice } from '../advice.ts';
import { adviseCorrection } from './advise.ts';
import { plus } from './direction.ts';
import { PROOF_ENOUGH_GMM, PROOF_SUMS_MAX, SCREW_SUMS_MAX } from './limits.ts';
import type { CorrectionQuestion } from './question.ts';
import type { ProvenScrews } from './screw-candidates.ts';
import { isSearchedAtOnce } from './screw-part.ts';
import { screwAnglesDeg, screwProblemOf } from './screw-problem.ts';
import { screwTable, searchScrews } from './screw-search.ts';
import { sitesOf, siteTasks } from './sites.ts';

export interface ScrewProgress {
  readonly featureId: string;
  /** Of all searches together, 0 to 1. */
  readonly share: number;
}

/**
 * Yields after each piece, so that a thread can look at its messages and a command can say how far it is; returns the
 * advice with the proven screws. Sixteen holes with six masses take seconds; with a dozen masses it can take days.
 */
export function* proveScrews(question: CorrectionQuestion): Generator<ScrewProgress, Advice> {
  const tasks = tasksOf(question);
  const proven: ProvenScrews[] = [];
  for (const [i, { problem, wanted }] of tasks.entries()) {
    const { featureId } = problem.feature;
    const search = searchScrews(screwTable(problem, PROOF_SUMS_MAX), plus(problem.nowSum, wanted), {
      enoughGmm: PROOF_ENOUGH_GMM,
    });
    for (;;) {
      const step = search.next();
      if (step.done === true) {
        proven.push({ featureId, wanted, found: step.value });
        break;
      }
      yield { featureId, share: (i + step.value) / tasks.length };
    }
  }
  return adviseCorrection(question, proven);
}

/** Whether some choices of screws are looked at by a proof only. */
export function hasScrewsToProve(question: CorrectionQuestion): boolean {
  return tasksOf(question).length > 0;
}

function tasksOf(question: CorrectionQuestion) {
  return siteTasks(question, sitesOf(question).sites)
    .flatMap(({ at }) => at)
    .flatMap(({ site, wanted }) =>
      site.features.flatMap((feature) => (feature.kind === 'set-screws' ? [{ feature, wanted }] : [])),
    )
    .map(({ feature, wanted }) => ({ wanted, problem: screwProblemOf(feature, screwAnglesDeg(feature)) }))
    .filter(
      ({ problem }) =>
        problem.holes.length > 0 && problem.massesG.length > 0 && !isSearchedAtOnce(problem, SCREW_SUMS_MAX),
    );
}
