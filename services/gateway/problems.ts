// Everything that can go wrong at the gateway, as RFC 9457 problem details: a closed list of codes, one shape for all.
import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import * as z from 'zod';
import { PLAIN } from '../../shared/fault-words.ts';
import { say } from '../../shared/language/index.ts';
import { PROBLEM_PREFIX, type FieldFault, type Problem } from '../../shared/problem.ts';

export const PROBLEM_TYPE = 'application/problem+json';

export const PROBLEMS = {
  'not-valid': { status: 400, title: say`Something in the request cannot be used.` },
  'not-json': { status: 400, title: say`The body is not JSON.` },
  'not-signed-in': { status: 401, title: say`Sign in first.` },
  'first-sign-in-needed': { status: 401, title: say`Nobody can sign in here yet.` },
  'wrong-sign-in': { status: 401, title: say`The name or the password is wrong.` },
  'wrong-secret': { status: 401, title: say`The device or its secret is wrong.` },
  'role-needed': { status: 403, title: say`Your roles do not include this.` },
  'foreign-origin': { status: 403, title: say`The request comes from another site.` },
  'token-over': { status: 403, title: say`The one-time token cannot be used.` },
  'not-found': { status: 404, title: say`There is no such thing here.` },
  'not-accepted': { status: 409, title: say`It was refused.` },
  'too-large': { status: 413, title: say`The body is too large.` },
  'not-json-type': { status: 415, title: say`Send JSON: content type application/json.` },
  'not-window-type': { status: 415, title: say`Send JSON or CBOR: content type application/json or application/cbor.` },
  'feed-only': { status: 426, title: say`The feed is a WebSocket.` },
  'too-many': { status: 429, title: say`Too many requests; wait a while.` },
  failed: { status: 500, title: say`The service failed at this request.` },
  full: { status: 503, title: say`No more can be served at the moment.` },
} as const satisfies Record<string, { status: number; title: string }>;
export type ProblemCode = keyof typeof PROBLEMS;

interface Particulars {
  readonly detail?: string;
  readonly errors?: readonly FieldFault[];
  readonly retryAfterS?: number;
}

/** Thrown by a route to end the request with a problem: the one way out besides an answer. */
export class HttpProblem extends Error {
  override readonly name = 'HttpProblem';
  readonly problem: Problem;
  readonly statusCode: number;
  readonly retryAfterS: number | undefined;

  constructor(code: ProblemCode, { detail, errors, retryAfterS }: Particulars = {}) {
    const { status, title } = PROBLEMS[code];
    super(title);
    this.statusCode = status;
    this.retryAfterS = retryAfterS;
    this.problem = {
      type: `${PROBLEM_PREFIX}${code}`,
      title,
      status,
      ...(detail === undefined ? {} : { detail }),
      ...(errors === undefined ? {} : { errors: [...errors] }),
    };
  }

  /** Passes on a problem that another part has already put into words. */
  static of(problem: Problem, status: number): HttpProblem {
    const passed = new HttpProblem('not-valid');
    return Object.assign(passed, { statusCode: status, problem: { ...problem, status } });
  }
}

/** What does not fit a route's schema; Fastify adds which part of the request. */
class WrongShape extends Error {
  override readonly name = 'WrongShape';
  readonly issues: readonly z.core.$ZodIssue[];
  readonly validationContext?: string;

  constructor({ issues }: z.core.$ZodError) {
    super('the request does not fit');
    this.issues = issues;
  }
}

/** Of a route's schema: the parts of a request that it takes, with what it makes of them. */
export function requestReader({ schema }: { readonly schema: z.ZodType }) {
  return (content: unknown) => {
    const { error, data } = z.safeParse(schema, content, PLAIN);
    return error === undefined ? { value: data } : { error: new WrongShape(error) };
  };
}

/** Turns whatever was thrown into a problem; what nobody expected is logged and told without its insides. */
export function answerWithProblem(error: FastifyError, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const known = problemOf(error, request);
  // A refusal that is told with its reason, such as that all places are taken, is ordinary and no fault of the service.
  if (known.statusCode >= 500 && !(error instanceof HttpProblem))
    request.log.error({ err: error, url: request.url }, 'a request failed');
  if (known.retryAfterS !== undefined) reply.header('retry-after', known.retryAfterS);
  const { pathname } = new URL(request.url, 'http://host');
  return reply
    .code(known.statusCode)
    .type(PROBLEM_TYPE)
    .send(JSON.stringify({ ...known.problem, instance: pathname }));
}

function problemOf(error: FastifyError, request: FastifyRequest): HttpProblem {
  if (error instanceof HttpProblem) return error;
  if (error instanceof WrongShape) {
    const where = error.validationContext ?? 'body';
    const content = contentOf(request, where);
    const errors = error.issues.map(({ path, message }) => {
      const pointer = path.map((step) => `/${String(step)}`).join('');
      return { pointer, want: message, got: SECRET.test(pointer) ? say`not shown` : shown(valueAt(content, pointer)) };
    });
    return new HttpProblem('not-valid', { detail: LOOK_AT[where] ?? say`Look at the body.`, errors });
  }
  switch (error.code) {
    case 'FST_ERR_CTP_INVALID_MEDIA_TYPE':
      return new HttpProblem('not-json-type');
    case 'FST_ERR_CTP_BODY_TOO_LARGE':
      return new HttpProblem('too-large', { detail: say`Expected at most ${request.routeOptions.bodyLimit} bytes.` });
    case 'FST_ERR_CTP_EMPTY_JSON_BODY':
    case 'FST_ERR_CTP_INVALID_JSON_BODY':
      return new HttpProblem('not-json');
    default:
      // What Fastify itself refuses early, such as a length that is none; its text is about the request only.
      return error.statusCode !== undefined && error.statusCode >= 400 && error.statusCode < 500
        ? HttpProblem.of({ type: 'about:blank', title: error.message }, error.statusCode)
        : new HttpProblem('failed');
  }
}

const LOOK_AT: Readonly<Record<string, string>> = {
  querystring: say`Look at the query.`,
  params: say`Look at the address.`,
  headers: say`Look at the headers.`,
};

function contentOf(request: FastifyRequest, where: string): unknown {
  if (where === 'querystring') return request.query;
  return where === 'params' ? request.params : request.body;
}

function valueAt(content: unknown, path: string): unknown {
  let value = content;
  for (const step of path.split('/').filter((part) => part !== '')) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<string, unknown>)[step];
  }
  return value;
}

const SHOWN_MAX = 80;
const SECRET = /password|token|secret|next/i;

/** Never deeper than the surface: what came may be nested without end. */
function shown(value: unknown): string {
  if (value === undefined) return say`nothing`;
  if (Array.isArray(value)) return say`a list of ${value.length}`;
  if (typeof value === 'string') return value.length > SHOWN_MAX ? `${value.slice(0, SHOWN_MAX)}…` : value;
  return typeof value === 'number' || typeof value === 'boolean' || value === null ? String(value) : say`an object`;
}
