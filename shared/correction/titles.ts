// What a plan is called in a list.
import type { CorrectionFeature } from '../messages/index.ts';
import type { Candidate } from './candidate.ts';
import { diameter, joined } from './number-words.ts';
import type { Draft } from './plan.ts';
import { say, sayCount } from '../language/index.ts';

export function titleOf({ aim, parts }: Draft, severalPlanes: boolean): string {
  const titles = parts
    .filter(({ candidate }) => candidate.steps.length > 0)
    .map(({ location, candidate }) =>
      severalPlanes ? location.before(candidateTitle(candidate)) : candidateTitle(candidate),
    );
  const all = titles.join('; ');
  return aim === 'static' ? say`${all} for the static part` : all;
}

function candidateTitle({ features, steps }: Candidate): string {
  return features
    .map((feature) =>
      featureTitle(
        feature,
        steps.filter(({ featureId }) => featureId === feature.featureId),
      ),
    )
    .reduce((before, next) => say`${before}, then ${next}`);
}

function featureTitle({ kind }: CorrectionFeature, steps: Candidate['steps']): string {
  const count = steps.length;
  const drills = joined([...new Set(steps.map(({ diameterMm }) => diameterMm ?? 0))].map(diameter));
  switch (kind) {
    case 'rings':
      return say`balancing rings`;
    case 'radial-holes':
      return count === 1 ? say`1 radial hole ${drills}` : say`${count} radial holes ${drills}`;
    case 'axial-holes':
      return count === 1 ? say`1 axial hole ${drills}` : say`${count} axial holes ${drills}`;
    case 'flats':
      return sayCount(count, '{0} flat', '{0} flats');
    case 'set-screws':
      return sayCount(count, '{0} set screw', '{0} set screws');
    case 'added-mass':
      return sayCount(count, '{0} added mass', '{0} added masses');
  }
}
