// Where along the axis there is something to correct at, and what is wanted there.
import { METHOD_WORDS } from '../method-words.ts';
import type { AdviceRefusal } from '../advice.ts';
import type { CorrectionFeature } from '../messages/index.ts';
import { xyOf, type Xy } from './direction.ts';
import { locationOf, wantedAtBoth, wantedLeastSquares, wantedStatic, type Location } from './locations.ts';
import type { CorrectionQuestion } from './question.ts';

/** The features at one place along the axis. */
export interface Site {
  readonly location: Location;
  readonly features: readonly CorrectionFeature[];
}

/** What a plan is after: all of it, or of two planes that only one can be corrected in the static part. */
export type Aim = 'all' | 'static';

/** One site alone, or two together; each with the change that would leave nothing, as far as it can. */
export interface SiteTask {
  readonly aim: Aim;
  readonly at: readonly { readonly site: Site; readonly wanted: Xy }[];
}

export function sitesOf(question: CorrectionQuestion): {
  readonly sites: readonly Site[];
  readonly refusals: readonly AdviceRefusal[];
} {
  const sites = new Map<string, Site>();
  const refusals: AdviceRefusal[] = [];
  for (const feature of question.features) {
    const location = locationOf(question.planes, feature);
    if ('why' in location) {
      refusals.push({ method: METHOD_WORDS[feature.kind], featureIds: [feature.featureId], ...location });
      continue;
    }
    const site = sites.get(location.key) ?? { location, features: [] };
    sites.set(location.key, { ...site, features: [...site.features, feature] });
  }
  return { sites: [...sites.values()], refusals };
}

/**
 * Each site alone takes out the static part, or what serves both planes best; two sites together take out all. With one
 * measured plane there is one thing to take out only.
 */
export function siteTasks(question: CorrectionQuestion, sites: readonly Site[]): readonly SiteTask[] {
  const measured = question.planes.map(({ unbalance }) => xyOf(unbalance));
  const still = wantedStatic(measured);
  if (measured.length === 1) return sites.map((site) => ({ aim: 'all', at: [{ site, wanted: still }] }));
  const alone = sites.flatMap((site): SiteTask[] => [
    { aim: 'static', at: [{ site, wanted: still }] },
    { aim: 'all', at: [{ site, wanted: wantedLeastSquares(measured, site.location) }] },
  ]);
  const together = sites.flatMap((first, i) =>
    sites.slice(i + 1).flatMap((second): SiteTask[] => {
      const wanted = wantedAtBoth(measured, first.location, second.location);
      if (wanted === null) return [];
      const [atFirst, atSecond] = wanted;
      return [
        {
          aim: 'all',
          at: [
            { site: first, wanted: atFirst },
            { site: second, wanted: atSecond },
          ],
        },
      ];
    }),
  );
  return [...alone, ...together];
}

/** The measuring error and the limit that count at a site: those of its plane, else those of the whole. */
export function askedAt(
  question: CorrectionQuestion,
  { weights }: Location,
): { readonly errorGmm: number; readonly limitGmm: number | null } {
  const plane = question.planes[weights.indexOf(1)];
  if (plane !== undefined) return { errorGmm: plane.errorGmm, limitGmm: plane.permissibleGmm };
  return { errorGmm: question.wholeErrorGmm, limitGmm: question.wholePermissibleGmm };
}
