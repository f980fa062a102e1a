// Several plants: what this one says of itself to another's service, by a token, and the list for whoever is signed in here.
import { GroupView, PlantStanding, type PlantInGroup } from '../../shared/group.ts';
import { standingOf } from '../group/index.ts';
import { answers } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { bearerIs } from './bearer.ts';
import { HttpProblem } from './problems.ts';

interface GroupParts extends Pick<Parts, 'plant'> {
  readonly standingToken: string | undefined;
  readonly others: () => readonly PlantInGroup[];
}

export function addGroupRoutes(app: App, { plant, standingToken, others }: GroupParts): void {
  app.get(
    '/api/standing',
    { config: { who: 'anyone' }, schema: { tags: ['group'], response: answers(PlantStanding) } },
    async (request) => {
      // The same where nobody is told: what is not given away cannot be guessed at.
      if (standingToken === undefined || !bearerIs(request, standingToken)) throw new HttpProblem('wrong-secret');
      return standingOf(await plant.floor());
    },
  );
  app.get(
    '/api/plants',
    { config: { who: SIGNED_IN }, schema: { tags: ['group'], response: answers(GroupView) } },
    async (): Promise<GroupView> => {
      const standing = standingOf(await plant.floor());
      return { plants: [{ name: standing.plant, standing, heardAt: standing.now }, ...others()] };
    },
  );
}
