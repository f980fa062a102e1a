// Puts what can be done at each place along the axis together into plans, with one plane or two.
import { minus, sizeOf, xyOf, type Xy } from './direction.ts';
import { NOTHING, type Candidate } from './candidate.ts';
import { candidatesAt } from './candidates.ts';
import { combinedCandidates } from './combined.ts';
import { wantedAtBoth, wantedLeastSquares, wantedStatic, type Location } from './locations.ts';
import { draftOf, type Draft } from './plan.ts';
import type { CorrectionFeature } from '../messages/index.ts';
import type { CorrectionQuestion } from './question.ts';
import type { ProvenScrews } from './screw-candidates.ts';

/** The features at one place along the axis. */
export interface Site {
  readonly location: Location;
  readonly features: readonly CorrectionFeature[];
}

export interface DraftTask {
  readonly question: CorrectionQuestion;
  readonly sites: readonly Site[];
  readonly proven: readonly ProvenScrews[];
  /** What each method may spend at each of its tasks, so that none is short because another was long. */
  readonly stepsEach: number;
}

export function draftsOf(task: DraftTask): readonly Draft[] {
  const { question, sites } = task;
  const measured = question.planes.map(({ unbalance }) => xyOf(unbalance));
  const drafts: Draft[] = [];
  for (const site of sites) {
    for (const wanted of wantedAlone(measured, site.location)) {
      for (const candidate of candidatesFor(task, site, wanted)) {
        drafts.push(draftOf(question, [{ location: site.location, candidate }]));
      }
    }
  }
  for (const [first, second] of pairsOf(sites)) {
    const wanted = wantedAtBoth(measured, first.location, second.location);
    if (wanted === null) continue;
    const atFirst = candidatesFor(task, first, wanted[0]);
    const atSecond = candidatesFor(task, second, wanted[1]);
    for (const one of atFirst) {
      for (const other of atSecond) {
        drafts.push(
          draftOf(question, [
            { location: first.location, candidate: one },
            { location: second.location, candidate: other },
          ]),
        );
      }
    }
  }
  return drafts;
}

/** With one site alone: the static part, or what serves both planes best; in one plane they are the same. */
function wantedAlone(measured: readonly Xy[], location: Location): readonly Xy[] {
  const still = wantedStatic(measured);
  if (measured.length === 1) return [still];
  return [still, wantedLeastSquares(measured, location)];
}

function* pairsOf(sites: readonly Site[]): Generator<readonly [Site, Site]> {
  for (const [i, first] of sites.entries()) {
    for (const second of sites.slice(i + 1)) yield [first, second];
  }
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

/** The measuring error and the limit that count at a site: those of its plane, else those of both together. */
export function askedAt(
  question: CorrectionQuestion,
  { weights }: Location,
): { readonly errorGmm: number; readonly limitGmm: number | null } {
  const [only] = question.planes;
  const felt = question.planes.filter((_, i) => weights[i] === 1);
  const plane = felt[0] ?? only;
  if (felt.length === 1) return { errorGmm: plane.errorGmm, limitGmm: plane.permissibleGmm };
  return { errorGmm: question.wholeErrorGmm, limitGmm: question.wholePermissibleGmm };
}

export const untouched = (question: CorrectionQuestion): Draft =>
  draftOf(question, [{ location: { key: '', weights: question.planes.map(() => 0), words: '' }, candidate: NOTHING }]);
