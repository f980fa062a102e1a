// Signing in and out, and choosing a password with a one-time token or instead of the old one.
import * as z from 'zod';
import { say } from '../../shared/language/index.ts';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { FirstUser, SessionView, SignIn } from '../../shared/session.ts';
import type { Person, Refused } from '../access/index.ts';
import { answers, DONE } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { clearSession, personOf, setSession } from './guard.ts';
import { HttpProblem, type ProblemCode } from './problems.ts';

const PasswordChange = z.object({ password: SignIn.shape.password, next: FirstUser.shape.password });

type SessionParts = Pick<Parts, 'access' | 'limits' | 'publicOrigin'>;

export function addSessionRoutes(app: App, parts: SessionParts): void {
  addWaysIn(app, parts);
  addOwnSession(app, parts);
}

/** For those who have no session yet. */
function addWaysIn(app: App, { access, limits, publicOrigin }: SessionParts): void {
  const open = {
    config: { who: 'anyone' as const, rateLimit: { max: limits.signInsPerMinuteMax, timeWindow: 60_000 } },
  };
  app.post(
    '/api/session',
    { ...open, schema: { tags: ['session'], body: SignIn, response: answers(SessionView) } },
    async (request, reply) => {
      const signed = await access.signIn({ ...request.body, from: request.ip });
      switch (signed.kind) {
        case 'signed-in':
          return begin(request, reply, { ...signed, publicOrigin });
        case 'wrong':
          throw new HttpProblem('wrong-sign-in');
        case 'wait':
          throw new HttpProblem('too-many', { retryAfterS: signed.retryAfterS });
      }
    },
  );
  app.post(
    '/api/first-user',
    { ...open, schema: { tags: ['session'], body: FirstUser, response: answers(SessionView) } },
    async (request, reply) => {
      const joined = await access.join({ ...request.body, from: request.ip });
      switch (joined.kind) {
        case 'signed-in':
          return begin(request, reply, { ...joined, publicOrigin });
        case 'refused':
          throw refusal(joined);
        case 'wait':
          throw new HttpProblem('too-many', { retryAfterS: joined.retryAfterS });
      }
    },
  );
}

function addOwnSession(app: App, { access, publicOrigin }: SessionParts): void {
  app.get(
    '/api/session',
    { config: { who: SIGNED_IN }, schema: { tags: ['session'], response: answers(SessionView) } },
    (request) => viewOf(personOf(request)),
  );
  app.delete(
    '/api/session',
    { config: { who: SIGNED_IN }, schema: { tags: ['session'], response: DONE } },
    async (request, reply) => {
      await access.signOut(request.sessionToken ?? '', request.ip);
      clearSession(request, reply, publicOrigin);
      return reply.code(204).send(null);
    },
  );
  app.post(
    '/api/password',
    { config: { who: SIGNED_IN }, schema: { tags: ['session'], body: PasswordChange, response: answers(SessionView) } },
    async (request, reply) => {
      const token = request.sessionToken ?? '';
      const changed = await access.changePassword({ ...request.body, token, from: request.ip });
      switch (changed.kind) {
        case 'changed':
          return begin(request, reply, { ...changed, publicOrigin });
        case 'wrong':
          throw new HttpProblem('not-accepted', { detail: say`The old password is wrong.` });
        case 'refused':
          throw refusal(changed);
        case 'wait':
          throw new HttpProblem('too-many', { retryAfterS: changed.retryAfterS });
      }
    },
  );
}

interface Begun {
  readonly token: string;
  readonly person: Person;
  readonly publicOrigin: string | undefined;
}

function begin(request: FastifyRequest, reply: FastifyReply, session: Begun): SessionView {
  setSession(request, reply, session);
  return viewOf(session.person);
}

function viewOf({ name, roles, endsAt }: Person): SessionView {
  return { name, roles: [...roles], endsAt };
}

const REFUSAL_PROBLEMS = {
  'bad-name': 'not-valid',
  'bad-password': 'not-valid',
  'no-roles': 'not-valid',
  'name-taken': 'not-accepted',
  'last-admin': 'not-accepted',
  revoked: 'not-accepted',
  'not-known': 'not-found',
  'token-over': 'token-over',
} as const satisfies Record<Refused['code'], ProblemCode>;

/** What access refused, in the gateway's words. */
export function refusal({ code, why, faults }: Refused): HttpProblem {
  return new HttpProblem(REFUSAL_PROBLEMS[code], { detail: why, ...(faults === undefined ? {} : { errors: faults }) });
}
