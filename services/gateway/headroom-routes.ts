// Headroom: the hours given away, what the limits would allow, and the user's own rates.
import * as z from 'zod';
import { HEADROOM_DAYS_DEFAULT, HEADROOM_DAYS_MAX, HeadroomView, RatesAsked } from '../../shared/headroom.ts';
import { MAY_DECLARE_RATES } from '../../shared/rights.ts';
import { actAs } from './act.ts';
import { answers } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { personOf } from './guard.ts';

const HeadroomAsked = z.object({
  days: z.coerce.number().int().min(1).max(HEADROOM_DAYS_MAX).default(HEADROOM_DAYS_DEFAULT).meta({
    description: 'UTC days up to now, today included',
  }),
});

export function addHeadroomRoutes(app: App, { plant }: Pick<Parts, 'plant'>): void {
  app.get(
    '/api/headroom',
    {
      config: { who: SIGNED_IN },
      schema: { tags: ['floor'], querystring: HeadroomAsked, response: answers(HeadroomView) },
    },
    ({ query }) => plant.headroom(query.days),
  );
  app.put(
    '/api/rates',
    {
      config: { who: MAY_DECLARE_RATES },
      schema: { tags: ['floor'], body: RatesAsked, response: answers(HeadroomView) },
    },
    async (request) => {
      await actAs(plant, personOf(request), 'rates-declared', request.body);
      return plant.headroom(HEADROOM_DAYS_DEFAULT);
    },
  );
}
