// The record: its lines page by page, and the check of the chain that says whether they are still what was written down.
import * as z from 'zod';
import { say } from '../../shared/language/index.ts';
import {
  RECORD_KINDS,
  RECORD_LINES_MAX,
  RECORD_LINES_WHEN_NOT_SAID,
  RecordCursor,
  RecordPage,
  VerificationAsked,
  VerificationView,
} from '../../shared/record.ts';
import { acceptedAnswer, answers } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { demandRole, personOf } from './guard.ts';
import { HttpProblem } from './problems.ts';

const LAST_INSTANT = 8.64e15;
const ASK_AGAIN_S = 5;

const At = z.coerce.number().int().min(0).max(LAST_INSTANT).meta({ description: 'ms UTC' });
const Name = z.string().min(1).max(200);
const Kind = z.enum(RECORD_KINDS);
const Wanted = z.object({
  by: Name.optional().describe('a person, the service, or a device'),
  about: Name.optional().describe('the id of a hold, a spindle, an assembly, a bench'),
  kind: z
    .union([Kind, z.array(Kind).max(RECORD_KINDS.length)])
    .optional()
    .describe('said several times: any of them'),
  from: At.optional(),
  to: At.optional().describe('left out itself'),
  before: RecordCursor.optional().describe('only lines before this one'),
  limit: z.coerce.number().int().min(1).max(RECORD_LINES_MAX).default(RECORD_LINES_WHEN_NOT_SAID),
});

export function addLineRoutes(app: App, { series }: Pick<Parts, 'series'>): void {
  app.get(
    '/api/record',
    {
      config: { who: SIGNED_IN },
      schema: { tags: ['record'], querystring: Wanted, response: answers(RecordPage) },
    },
    ({ query: { kind, before, ...wanted } }) => {
      const [position, ordinal] = (before ?? '').split('.').map(Number);
      const given = Object.fromEntries(Object.entries(wanted).filter(([, value]) => value !== undefined));
      return series.record({
        ...given,
        limit: wanted.limit,
        ...(kind === undefined ? {} : { kinds: Array.isArray(kind) ? kind : [kind] }),
        ...(position === undefined || ordinal === undefined ? {} : { before: { position, ordinal } }),
      });
    },
  );
}

export function addVerificationRoutes(app: App, { verifying, access }: Pick<Parts, 'verifying' | 'access'>): void {
  const who = { config: { who: SIGNED_IN } };
  const schema = { tags: ['record'], response: answers(VerificationView) };
  app.get('/api/verification', { ...who, schema }, () => verifying.view());
  app.post(
    '/api/verification',
    { ...who, schema: { tags: ['record'], body: VerificationAsked, response: acceptedAnswer(VerificationView) } },
    async (request, reply) => {
      const begun = verifying.start(personOf(request).name, request.body.noted);
      if (begun === undefined) {
        const detail = say`The record is being checked already. Wait for it.`;
        throw new HttpProblem('full', { detail, retryAfterS: ASK_AGAIN_S });
      }
      void reply.code(202);
      return begun;
    },
  );
  app.delete('/api/verification', { ...who, schema }, async (request) => {
    // What another person waits for is ended by whoever looks after the service.
    const { state, by } = verifying.view();
    if (state === 'running' && by !== personOf(request).name) await demandRole(access, request, ['admin']);
    return verifying.cancel();
  });
}
