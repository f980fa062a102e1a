// Puts what can be done at each place along the axis together into plans, with one plane or two.
import { NOTHING, type Candidate } from './candidate.ts';
import { candidatesAt } from './candidates.ts';
import { combinedCandidates, pairsIn } from './combined.ts';
import { minus, sizeOf, type Xy } from './direction.ts';
import { draftOf, type Draft, type Part } from './plan.ts';
import type { CorrectionQuestion } from './question.ts';
import type { ProvenScrews } from './screw-candidates.ts';
import { SearchPurse } from './search-purse.ts';
import { askedAt, siteTasks, type Site, type SiteTask } from './sites.ts';
import { isUnfinished } from './unfinished.ts';

export interface DraftTask {
  readonly question: CorrectionQuestion;
  readonly sites: readonly Site[];
  readonly proven: readonly ProvenScrews[];
  /** What all searches together may look at. */
  readonly steps: number;
}

export interface Drafted {
  readonly drafts: readonly Draft[];
  /** Features of which settings that may suffice were not looked at. */
  readonly unfinished: ReadonlySet<string>;
  /** Whether more searching could find what suffices. */
  readonly isFinished: boolean;
}

export function draftsOf(task: DraftTask): Drafted {
  const tasks = siteTasks(task.question, task.sites);
  // With planes by name what is wanted of one alone and of both together is the same.
  const asked = new Map(tasks.flatMap(({ at }) => at).map((one) => [keyOf(one), one]));
  const purse = new SearchPurse(
    task.steps,
    [...asked.values()].reduce((sum, { site }) => sum + searchesAt(site), 0),
  );
  const unfinished = new Set<string>();
  const parts = new Map(
    [...asked].map(([key, { site, wanted }]): [string, readonly Part[]] => [
      key,
      candidatesFor(task, { site, wanted, purse, unfinished }).map((candidate) => ({
        location: site.location,
        candidate,
      })),
    ]),
  );
  const drafts = tasks.flatMap(({ aim, at }) =>
    everyChoice(at.map((one) => parts.get(keyOf(one)) ?? [])).map((choice) => draftOf(task.question, choice, aim)),
  );
  const exact = [...parts.values()].flat().every(({ candidate }) => candidate.exact || candidate.features.length === 1);
  return { drafts, unfinished, isFinished: exact && unfinished.size === 0 && !purse.cameToNothing };
}

const keyOf = ({ site, wanted }: SiteTask['at'][number]): string =>
  `${site.location.key} ${wanted.x.toFixed(9)} ${wanted.y.toFixed(9)}`;

/** Every method alone, and every pair of them that may follow each other. */
const searchesAt = ({ features }: Site): number => features.length + pairsIn(features);

/** One of the first with one of the second, and so on. */
function everyChoice(lists: readonly (readonly Part[])[]): readonly (readonly Part[])[] {
  return lists.reduce<readonly (readonly Part[])[]>(
    (choices, list) => choices.flatMap((choice) => list.map((part) => [...choice, part])),
    [[]],
  );
}

/** Quick searches come first: what they leave over goes to the long ones. */
const BY_EFFORT = ['rings', 'set-screws', 'added-mass', 'flats', 'axial-holes', 'radial-holes'] as const;

interface SiteSearch {
  readonly site: Site;
  readonly wanted: Xy;
  readonly purse: SearchPurse;
  /** Features are added to it. */
  readonly unfinished: Set<string>;
}

function candidatesFor(
  { question, proven }: DraftTask,
  { site, wanted, purse, unfinished }: SiteSearch,
): readonly Candidate[] {
  const task = { wanted, ...askedAt(question, site.location), proven };
  const features = site.features.toSorted((a, b) => BY_EFFORT.indexOf(a.kind) - BY_EFFORT.indexOf(b.kind));
  const singles = features.flatMap((feature) => {
    const found = purse.spend((budget) => candidatesAt(feature, task, budget));
    if (isUnfinished(feature, found, task)) unfinished.add(feature.featureId);
    return found.filter(({ steps }) => steps.length > 0);
  });
  // Where one method that can be taken back is enough, two in the same plane are of no use.
  const enough = singles.some(({ removedG, effect, error2 }) => {
    const worst = sizeOf(minus(wanted, effect)) + Math.sqrt(task.errorGmm ** 2 + error2);
    return removedG === 0 && task.limitGmm !== null && worst <= task.limitGmm;
  });
  if (enough || task.limitGmm === null) return singles;
  return [...singles, ...combinedCandidates(features, task, purse)];
}

export const untouched = (question: CorrectionQuestion): Draft =>
  draftOf(question, [
    {
      location: { key: '', weights: question.planes.map(() => 0), words: '', before: (what) => what },
      candidate: NOTHING,
    },
  ]);
