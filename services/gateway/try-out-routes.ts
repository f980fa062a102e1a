// Trying a draft on history: begun, looked after while it runs, and ended early by whoever has seen enough.
import * as z from 'zod';
import { say } from '../../shared/language/index.ts';
import { MAY_DECLARE_RULES } from '../../shared/rights.ts';
import { UNTRIED_WORDS } from '../../shared/rule-words.ts';
import { TryOutAsked, TryOutView } from '../../shared/try-out.ts';
import { acceptedAnswer, answers, found } from './answers.ts';
import type { App, Parts } from './app.ts';
import { HttpProblem } from './problems.ts';

const NOTHING_TO_TRY = say`With this draft no limit would be other than it is now, nor how long it must be exceeded, or no limit is declared for any spindle that it names.`;
const NOTHING_ELSE = say`This draft changes nothing else for any spindle that has a limit.`;

const WithTryOut = z.object({ id: z.uuid() });

export function addTryOutRoutes(app: App, { tryOuts }: Pick<Parts, 'tryOuts'>): void {
  const who = { config: { who: MAY_DECLARE_RULES } };
  app.post(
    '/api/try-outs',
    { ...who, schema: { tags: ['try-out'], body: TryOutAsked, response: acceptedAnswer(TryOutView) } },
    async (request, reply) => {
      const begun = await tryOuts.start(request.body);
      switch (begun.kind) {
        case 'busy':
          throw new HttpProblem('full', {
            detail: say`Another draft is being tried out. Wait for it.`,
            retryAfterS: 5,
          });
        case 'nothing':
          throw new HttpProblem('not-accepted', {
            detail: begun.changesUntried ? `${UNTRIED_WORDS} ${NOTHING_ELSE}` : NOTHING_TO_TRY,
          });
        case 'started':
          void reply.code(202);
          return begun.view;
      }
    },
  );
  app.get(
    '/api/try-outs/:id',
    { ...who, schema: { tags: ['try-out'], params: WithTryOut, response: answers(TryOutView) } },
    async ({ params }) => found(tryOuts.view(params.id), say`No try-out ${params.id} is known.`),
  );
  app.delete(
    '/api/try-outs/:id',
    { ...who, schema: { tags: ['try-out'], params: WithTryOut, response: answers(TryOutView) } },
    async ({ params }) => found(await tryOuts.cancel(params.id), say`No try-out ${params.id} is known.`),
  );
}
