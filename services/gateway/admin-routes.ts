// What administrators do: users, device credentials, the access log, and a notice sent to see whether it arrives.
import * as z from 'zod';
import { DEVICE_KINDS, Id } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import { ROLES, type Role } from '../../shared/rights.ts';
import { MILLISECONDS_AN_HOUR } from '../../shared/time.ts';
import { answers, createdAnswer, DONE, WithId } from './answers.ts';
import type { App, Parts } from './app.ts';
import { personOf } from './guard.ts';
import { HttpProblem } from './problems.ts';
import { refusal } from './session-routes.ts';

const ADMIN: readonly Role[] = ['admin'];
const OVERLAP_HOURS_MAX = 24 * 30;
const At = z.number().meta({ description: 'ms UTC' });

const UserShown = z.object({
  name: z.string(),
  roles: z.array(z.enum(ROLES)).readonly(),
  disabled: z.boolean(),
  hasPassword: z.boolean(),
  createdAt: At,
  createdBy: z.string(),
  lastSignInAt: At.optional(),
});
const Roles = z.array(z.enum(ROLES)).min(1).max(ROLES.length);
/** The token is shown this once; with it the user chooses a password. */
const UserWithToken = z.object({ user: UserShown, token: z.string().optional(), endsAt: At.optional() });

const DeviceShown = z.object({
  device: z.string(),
  kind: z.enum(DEVICE_KINDS),
  serves: z.array(z.string()).readonly(),
  createdAt: At,
  createdBy: z.string(),
  revokedAt: At.optional(),
  secretsInForce: z.int(),
});
const DeviceAsked = z.object({
  device: Id,
  kind: z.enum(DEVICE_KINDS),
  serves: z
    .array(Id.or(z.literal('*')))
    .max(64)
    .default([]),
});
/** The secret is shown this once. */
const DeviceWithSecret = DeviceAsked.extend({ serves: z.array(z.string()).readonly(), secret: z.string() });
const Overlap = z.object({ overlapHours: z.number().min(0).max(OVERLAP_HOURS_MAX).optional() });

export function addUserRoutes(app: App, { access }: Pick<Parts, 'access'>): void {
  app.get(
    '/api/users',
    { config: { who: ADMIN }, schema: { tags: ['admin'], response: answers(z.array(UserShown).readonly()) } },
    () => access.users(),
  );
  app.post(
    '/api/users',
    {
      config: { who: ADMIN },
      schema: {
        tags: ['admin'],
        body: z.object({ name: Id, roles: Roles }),
        response: createdAnswer(UserWithToken),
      },
    },
    async (request, reply) => {
      const invited = await access.invite(personOf(request).name, request.body);
      if (invited.kind === 'refused') throw refusal(invited);
      const { user, token, endsAt } = invited;
      return reply.code(201).send({ user, token, endsAt });
    },
  );
  app.patch(
    '/api/users/:id',
    {
      config: { who: ADMIN },
      schema: {
        tags: ['admin'],
        params: WithId,
        body: z.strictObject({
          roles: Roles.optional(),
          disabled: z.boolean().optional(),
          reset: z.boolean().optional(),
          endSessions: z.boolean().optional(),
        }),
        response: answers(UserWithToken),
      },
    },
    async (request) => {
      const { roles, disabled, reset, endSessions } = request.body;
      const by = personOf(request).name;
      const changed = await access.changeUser(by, request.params.id, {
        ...(roles === undefined ? {} : { roles }),
        ...(disabled === undefined ? {} : { disabled }),
        ...(reset === undefined ? {} : { reset }),
      });
      if (changed.kind === 'refused') throw refusal(changed);
      if (endSessions === true) await access.endSessions(by, request.params.id);
      const { user, token, endsAt } = changed;
      return token === undefined || endsAt === undefined ? { user } : { user, token, endsAt };
    },
  );
}

export function addDeviceRoutes(app: App, { access }: Pick<Parts, 'access'>): void {
  app.get(
    '/api/devices',
    { config: { who: ADMIN }, schema: { tags: ['admin'], response: answers(z.array(DeviceShown).readonly()) } },
    () => access.devices(),
  );
  app.post(
    '/api/devices',
    {
      config: { who: ADMIN },
      schema: { tags: ['admin'], body: DeviceAsked, response: createdAnswer(DeviceWithSecret) },
    },
    async (request, reply) => {
      const enrolled = await access.enrol(personOf(request).name, request.body);
      if (enrolled.kind === 'refused') throw refusal(enrolled);
      return reply.code(201).send({ ...enrolled.credential, secret: enrolled.secret });
    },
  );
  app.post(
    '/api/devices/:id/rotate',
    {
      config: { who: ADMIN },
      schema: { tags: ['admin'], params: WithId, body: Overlap, response: answers(DeviceWithSecret) },
    },
    async (request) => {
      const { overlapHours } = request.body;
      const overlapMs = overlapHours === undefined ? undefined : Math.round(overlapHours * MILLISECONDS_AN_HOUR);
      const rotated = await access.rotate(personOf(request).name, request.params.id, overlapMs);
      if (rotated.kind === 'refused') throw refusal(rotated);
      return { ...rotated.credential, secret: rotated.secret };
    },
  );
  app.delete(
    '/api/devices/:id',
    { config: { who: ADMIN }, schema: { tags: ['admin'], params: WithId, response: DONE } },
    async (request, reply) => {
      const revoked = await access.revoke(personOf(request).name, request.params.id);
      if (!revoked)
        throw new HttpProblem('not-found', { detail: say`No device ${request.params.id} has a credential.` });
      return reply.code(204).send(null);
    },
  );
}

export function addRecordRoutes(
  app: App,
  { access, notices, limits }: Pick<Parts, 'access' | 'notices' | 'limits'>,
): void {
  const Line = z.object({ at: At, who: z.string(), what: z.string(), subject: z.string(), from: z.string() });
  const limit = z.coerce.number().int().min(1).max(limits.logLinesMax).default(100);
  app.get(
    '/api/access-log',
    {
      config: { who: ADMIN },
      schema: { tags: ['admin'], querystring: z.object({ limit }), response: answers(z.array(Line).readonly()) },
    },
    ({ query }) => access.log(query),
  );
  app.post(
    '/api/notices/test',
    {
      config: { who: ADMIN },
      schema: {
        tags: ['admin'],
        body: z.object({ channel: z.string().min(1).max(40).default('webhook') }),
        response: answers(z.object({ ok: z.boolean(), detail: z.string() })),
      },
    },
    async ({ body }) => {
      const told = await notices.test(body.channel);
      return told ?? { ok: false, detail: say`Nothing is set up to send notices.` };
    },
  );
}
