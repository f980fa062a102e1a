// Looking ahead over HTTP: what reaches its limit when, of the whole plant or of one cell.
import * as z from 'zod';
import { PlantAheadView } from '../../shared/ahead-plant.ts';
import { answers } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';

const AheadAsked = z.object({ cell: z.string().max(40).optional() });

export function addAheadRoutes(app: App, { plant }: Pick<Parts, 'plant'>): void {
  app.get(
    '/api/ahead',
    {
      config: { who: SIGNED_IN },
      schema: { tags: ['floor'], querystring: AheadAsked, response: answers(PlantAheadView) },
    },
    ({ query }) => plant.ahead(query.cell),
  );
}
