// Stands before every request: whose session it is, whether the roles suffice, and whether the page it comes from is ours.
import type { FastifyReply, FastifyRequest } from 'fastify';
import { say } from '../../shared/language/index.ts';
import type { Role } from '../../shared/rights.ts';
import type { AccessStore, Person } from '../access/index.ts';
import type { App, Who } from './app.ts';
import { HttpProblem } from './problems.ts';

const CHANGES_NOTHING = new Set(['GET', 'HEAD', 'OPTIONS']);
/** A browser keeps a cookie with this prefix only for this very host and only over TLS. */
const SECURE_PREFIX = '__Host-';
const COOKIE = 'counterpoise';

/** Registers the guard; a route under /api that does not say who may use it stops the start. */
export function addGuard(
  app: App,
  { access, publicOrigin }: { access: AccessStore; publicOrigin: string | undefined },
): void {
  app.decorateRequest('person', undefined);
  app.decorateRequest('sessionToken', undefined);
  app.addHook('onRoute', ({ url, config }) => {
    if (url.startsWith('/api') && config?.who === undefined) throw new Error(`${url} does not say who may use it`);
  });
  // After the rate limit, which stands at onRequest, and before a byte of the body is read or a socket upgraded.
  app.addHook('preParsing', async (request) => {
    if (!isOurs(request, publicOrigin)) throw new HttpProblem('foreign-origin');
    const who: Who = request.routeOptions.config.who ?? 'anyone';
    if (who === 'anyone') return;
    const token = tokenOf(request, publicOrigin);
    const person = token === undefined ? undefined : await access.personOf(token);
    if (person === undefined) throw await notSignedIn(access);
    request.person = person;
    request.sessionToken = token;
    if (who.length > 0) await demandRole(access, request, who);
  });
}

async function notSignedIn(access: AccessStore): Promise<HttpProblem> {
  if (await access.hasUsers()) return new HttpProblem('not-signed-in');
  return new HttpProblem('first-sign-in-needed', {
    detail: say`Open the address with the one-time token that the start printed, or use the token in the file first-sign-in of the data directory.`,
  });
}

/** Refuses, on record, whoever has none of these roles. */
export async function demandRole(access: AccessStore, request: FastifyRequest, roles: readonly Role[]): Promise<void> {
  const person = personOf(request);
  if (roles.some((role) => person.roles.includes(role))) return;
  const subject = `${request.method} ${request.url}`;
  await access.record({ who: person.name, what: 'denied', subject, from: request.ip });
  throw new HttpProblem('role-needed', { detail: say`It takes one of: ${roles.join(', ')}.` });
}

/** The person of a route that needs one. */
export function personOf(request: FastifyRequest): Person {
  if (request.person === undefined) throw new Error('the route is for anyone and has no person');
  return request.person;
}

/**
 * A browser says which page a request comes from. What changes something, and the feed, is taken from our own pages
 * only. A program that is no browser sends no Origin and has no cookie that a page could misuse; on the feed it must
 * send one all the same, so that the check cannot be left out by whatever a browser extension or proxy strips.
 */
function isOurs(request: FastifyRequest, publicOrigin: string | undefined): boolean {
  if (CHANGES_NOTHING.has(request.method) && !request.ws) return true;
  const { origin, host } = request.headers;
  if (origin === undefined) {
    const site = request.headers['sec-fetch-site'];
    return !request.ws && (site === undefined || site === 'same-origin' || site === 'none');
  }
  return origin === publicOrigin || (host !== undefined && origin === `${request.protocol}://${host}`);
}

export function isSecure(request: FastifyRequest, publicOrigin: string | undefined): boolean {
  if (request.protocol === 'https') return true;
  // Behind a proxy that ends TLS: the page's address is the public one.
  return publicOrigin?.startsWith('https://') === true && publicOrigin === `https://${request.headers.host}`;
}

function cookieName(secure: boolean): string {
  return secure ? `${SECURE_PREFIX}${COOKIE}` : COOKIE;
}

function tokenOf(request: FastifyRequest, publicOrigin: string | undefined): string | undefined {
  return request.cookies[cookieName(isSecure(request, publicOrigin))];
}

export function setSession(
  request: FastifyRequest,
  reply: FastifyReply,
  session: { token: string; person: Person; publicOrigin: string | undefined },
): void {
  const secure = isSecure(request, session.publicOrigin);
  reply.setCookie(cookieName(secure), session.token, {
    path: '/',
    httpOnly: true,
    sameSite: 'strict',
    secure,
    maxAge: Math.floor((session.person.endsAt - session.person.signedInAt) / 1000),
  });
}

export function clearSession(request: FastifyRequest, reply: FastifyReply, publicOrigin: string | undefined): void {
  const secure = isSecure(request, publicOrigin);
  reply.clearCookie(cookieName(secure), { path: '/', httpOnly: true, sameSite: 'strict', secure });
}
