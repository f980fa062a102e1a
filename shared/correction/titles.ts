// What a plan is called in a list.
import type { CorrectionFeature } from '../messages/index.ts';
import type { Candidate } from './candidate.ts';
import { diameter } from './number-words.ts';
import type { Draft } from './plan.ts';

export function titleOf({ aim, parts }: Draft, severalPlanes: boolean): string {
  const titles = parts
    .filter(({ candidate }) => candidate.steps.length > 0)
    .map(({ location, candidate }) => `${severalPlanes ? `${location.words}: ` : ''}${candidateTitle(candidate)}`);
  return `${titles.join('; ')}${aim === 'static' ? ' for the static part' : ''}`;
}

function candidateTitle({ features, steps }: Candidate): string {
  return features
    .map((feature) =>
      featureTitle(
        feature,
        steps.filter(({ featureId }) => featureId === feature.featureId),
      ),
    )
    .join(', then ');
}

function featureTitle({ kind }: CorrectionFeature, steps: Candidate['steps']): string {
  const count = steps.length;
  const several = count === 1 ? '' : 's';
  const drills = [...new Set(steps.map(({ diameterMm }) => diameterMm ?? 0))].map(diameter).join(' and ');
  switch (kind) {
    case 'rings':
      return 'balancing rings';
    case 'radial-holes':
      return `${count} radial hole${several} ${drills}`;
    case 'axial-holes':
      return `${count} axial hole${several} ${drills}`;
    case 'flats':
      return `${count} flat${several}`;
    case 'set-screws':
      return `${count} set screw${several}`;
    case 'added-mass':
      return `${count} added mass${count === 1 ? '' : 'es'}`;
  }
}
