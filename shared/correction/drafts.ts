// Puts what can be done at each place along the axis together into plans, with one plane or two.
import { NOTHING, type Candidate } from './candidate.ts';
import { candidatesAt } from './candidates.ts';
import { combinedCandidates } from './combined.ts';
import { minus, sizeOf, type Xy } from './direction.ts';
import { draftOf, type Draft, type Part } from './plan.ts';
import type { CorrectionQuestion } from './question.ts';
import type { ProvenScrews } from './screw-candidates.ts';
import { askedAt, siteTasks, type Site } from './sites.ts';

export interface DraftTask {
  readonly question: CorrectionQuestion;
  readonly sites: readonly Site[];
  readonly proven: readonly ProvenScrews[];
  /** What each method may spend at each of its tasks, so that none is short because another was long. */
  readonly stepsEach: number;
}

export function draftsOf(task: DraftTask): readonly Draft[] {
  const known = new Map<string, readonly Part[]>();
  const partsAt = (site: Site, wanted: Xy): readonly Part[] => {
    // With planes by name what is wanted of one alone and of both together is the same.
    const key = `${site.location.key} ${wanted.x.toFixed(9)} ${wanted.y.toFixed(9)}`;
    const parts =
      known.get(key) ?? candidatesFor(task, site, wanted).map((candidate) => ({ location: site.location, candidate }));
    known.set(key, parts);
    return parts;
  };
  return siteTasks(task.question, task.sites).flatMap(({ aim, at }) =>
    everyChoice(at.map(({ site, wanted }) => partsAt(site, wanted))).map((parts) => draftOf(task.question, parts, aim)),
  );
}

/** One of the first with one of the second, and so on. */
function everyChoice(lists: readonly (readonly Part[])[]): readonly (readonly Part[])[] {
  return lists.reduce<readonly (readonly Part[])[]>(
    (choices, list) => choices.flatMap((choice) => list.map((part) => [...choice, part])),
    [[]],
  );
}

function candidatesFor({ question, proven, stepsEach }: DraftTask, site: Site, wanted: Xy): readonly Candidate[] {
  const task = { wanted, ...askedAt(question, site.location), proven };
  const singles = site.features.flatMap((feature) => candidatesAt(feature, task, { left: stepsEach }));
  // Where one method that can be taken back is enough, two in the same plane are of no use.
  const enough = singles.some(({ removedG, effect, error2 }) => {
    const worst = sizeOf(minus(wanted, effect)) + Math.sqrt(task.errorGmm ** 2 + error2);
    return removedG === 0 && task.limitGmm !== null && worst <= task.limitGmm;
  });
  if (enough || task.limitGmm === null) return singles;
  return [...singles, ...combinedCandidates(site.features, task, stepsEach)];
}

export const untouched = (question: CorrectionQuestion): Draft =>
  draftOf(question, [{ location: { key: '', weights: question.planes.map(() => 0), words: '' }, candidate: NOTHING }]);
