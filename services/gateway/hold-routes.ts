// Holds: listing them, and what people do about them, each act under its own right.
import * as z from 'zod';
import { ActId } from '../../shared/acts.ts';
import { FOUND } from '../../shared/causes.ts';
import { say } from '../../shared/language/index.ts';
import { HOLD_ACTS, MAY_ACT } from '../../shared/rights.ts';
import { HoldView } from '../../shared/views.ts';
import { actAs } from './act.ts';
import { answers, found, WithId } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { demandRole, personOf } from './guard.ts';

const LIMIT_WHEN_NOT_SAID = 200;
const ActAsked = z.object({
  act: z.enum(HOLD_ACTS),
  note: z.string().trim().max(1000).optional(),
  found: z.enum(FOUND).optional(),
  actId: ActId.optional().describe('made by the sender, new for each act: the same act sent again changes nothing'),
});

export function addHoldRoutes(app: App, { plant, access, limits }: Pick<Parts, 'plant' | 'access' | 'limits'>): void {
  const Wanted = z.object({
    state: z.enum(['open', 'ended', 'all']).default('open'),
    limit: z.coerce.number().int().min(1).max(limits.holdsMax).default(LIMIT_WHEN_NOT_SAID),
  });
  app.get(
    '/api/holds',
    {
      config: { who: SIGNED_IN },
      schema: { tags: ['holds'], querystring: Wanted, response: answers(z.array(HoldView).readonly()) },
    },
    ({ query }) => plant.holds(query),
  );
  app.get(
    '/api/holds/:id',
    { config: { who: SIGNED_IN }, schema: { tags: ['holds'], params: WithId, response: answers(HoldView) } },
    async ({ params }) => found(await plant.hold(params.id), say`No hold ${params.id} is known.`),
  );
  app.post(
    '/api/holds/:id/acts',
    {
      config: { who: [...new Set(Object.values(MAY_ACT).flat())] },
      schema: { tags: ['holds'], params: WithId, body: ActAsked, response: answers(HoldView) },
    },
    async (request) => {
      const { act, note, found: was, actId } = request.body;
      const holdId = request.params.id;
      await demandRole(access, request, MAY_ACT[act]);
      found(await plant.hold(holdId), say`No hold ${holdId} is known.`);
      const said = {
        act,
        holdId,
        ...(note === undefined ? {} : { note }),
        ...(was === undefined ? {} : { found: was }),
      };
      await actAs(plant, personOf(request), 'hold-act', said, actId);
      return found(await plant.hold(holdId), say`No hold ${holdId} is known.`);
    },
  );
}
