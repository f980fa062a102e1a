// What arrived: lanes per device, the rejected list with its bytes, reading one again, and any entry of the journal.
import * as z from 'zod';
import { say } from '../../shared/language/index.ts';
import type { Role } from '../../shared/rights.ts';
import { IntakeView, RejectView } from '../../shared/views.ts';
import { answers, found, WithPosition } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { personOf } from './guard.ts';
import { HttpProblem } from './problems.ts';

const MAY_RETRY: readonly Role[] = ['tool-room', 'maintenance', 'engineer', 'admin'];
const LIMIT_WHEN_NOT_SAID = 100;
const WITHIN_409 = 409;

export function addIntakeRoutes(app: App, { plant, limits }: Pick<Parts, 'plant' | 'limits'>): void {
  const reads = { config: { who: SIGNED_IN } };
  const Wanted = z.object({
    state: z.enum(['open', 'retried']).optional(),
    before: z.coerce.number().int().min(1).optional(),
    limit: z.coerce.number().int().min(1).max(limits.rejectsMax).default(LIMIT_WHEN_NOT_SAID),
  });
  app.get('/api/intake', { ...reads, schema: { tags: ['intake'], response: answers(IntakeView) } }, () =>
    plant.intake(),
  );
  app.get(
    '/api/rejects',
    { ...reads, schema: { tags: ['intake'], querystring: Wanted, response: answers(z.array(RejectView).readonly()) } },
    ({ query: { state, before, limit } }) =>
      plant.rejects({ limit, ...(state === undefined ? {} : { state }), ...(before === undefined ? {} : { before }) }),
  );
  app.get(
    '/api/rejects/:position',
    {
      ...reads,
      schema: {
        tags: ['intake'],
        params: WithPosition,
        response: answers(RejectView.extend({ base64: z.string().meta({ description: 'the bytes as they came' }) })),
      },
    },
    async ({ params: { position } }) =>
      found(await plant.reject(position), say`No rejected message at ${position} is known.`),
  );
  app.post(
    '/api/rejects/:position/retry',
    {
      config: { who: MAY_RETRY },
      schema: { tags: ['intake'], params: WithPosition, response: answers(z.object({ position: z.int() })) },
    },
    async (request) => {
      const { name, roles } = personOf(request);
      const { position } = request.params;
      const done = await plant.retry({ name, roles: [...roles] }, position);
      switch (done.kind) {
        case 'kept':
          return { position: done.position };
        case 'rejected':
          throw HttpProblem.of(done.problem, WITHIN_409);
        case 'unknown':
          throw new HttpProblem('not-found', { detail: say`No open rejected message stands at ${position}.` });
      }
    },
  );
  app.get(
    '/api/journal/:position',
    { ...reads, schema: { tags: ['intake'], params: WithPosition, response: answers(z.unknown()) } },
    async ({ params: { position } }) => found(await plant.entry(position), say`No entry at ${position} is known.`),
  );
}
