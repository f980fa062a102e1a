// A command that asks a running service: signed in as a person for as long as it works, the password from the environment.
import { Problem } from '../../shared/problem.ts';
import { WrongUse } from './wrong-use.ts';

export const PASSWORD_FROM = 'COUNTERPOISE_PASSWORD';
const ANSWER_WITHIN_MS = 60_000;

export interface ServiceSession {
  readonly get: (path: string) => Promise<unknown>;
  readonly post: (path: string, body: unknown) => Promise<unknown>;
}

/** Signs out again whatever comes of the work. A refusal is an error in the service's words. */
export async function withSession<T>(
  url: string,
  user: string | undefined,
  work: (session: ServiceSession) => Promise<T>,
): Promise<T> {
  const password = process.env[PASSWORD_FROM];
  if (user === undefined) throw new WrongUse('--user: expected who signs in; it is missing');
  if (password === undefined || password === '')
    throw new WrongUse(`expected the password of ${user} in the environment, as ${PASSWORD_FROM}; it is missing`);
  const signedIn = await asked('POST', new URL('/api/session', url), { body: { name: user, password } });
  const cookie = signedIn.headers
    .getSetCookie()
    .map((one) => one.split(';')[0] ?? '')
    .join('; ');
  try {
    return await work({
      get: async (path) => (await asked('GET', new URL(path, url), { cookie })).json(),
      post: async (path, body) => (await asked('POST', new URL(path, url), { body, cookie })).json(),
    });
  } finally {
    await fetch(new URL('/api/session', url), { method: 'DELETE', headers: { cookie } });
  }
}

/** What does not answer is named: fetch alone says only that it failed. */
async function fetched(url: URL, request: RequestInit): Promise<Response> {
  try {
    return await fetch(url, request);
  } catch (failure) {
    const cause = failure instanceof Error ? (failure.cause ?? failure) : failure;
    const code = cause instanceof Error && 'code' in cause ? String(cause.code) : '';
    const words = cause instanceof Error && cause.message !== '' ? cause.message : code;
    throw new Error(`${url.origin} does not answer: ${words || String(failure)}`, { cause: failure });
  }
}

async function asked(
  method: string,
  url: URL,
  { body, cookie }: { readonly body?: unknown; readonly cookie?: string },
): Promise<Response> {
  const answer = await fetched(url, {
    method,
    headers: {
      ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      ...(cookie === undefined ? {} : { cookie }),
    },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
  });
  if (answer.ok) return answer;
  const problem = Problem.safeParse(await answer.json().catch(() => undefined));
  const words = problem.success
    ? [problem.data.title, problem.data.detail, ...(problem.data.errors ?? []).map(({ want }) => `Expected ${want}.`)]
    : [];
  throw new Error(`${url.origin} answered ${answer.status}: ${words.filter((part) => part !== undefined).join(' ')}`);
}
