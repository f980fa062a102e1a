// Signing in with a password, joining with a one-time token, changing one's own password: what costs a slow hash.
import { isId, type Role } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import { logged, refuse, type Context } from './context.ts';
import type { Joined, PasswordChanged, SignedIn, Wait } from './faces.ts';
import { hashOfPassword, passwordMatches, spendAsMuch } from './password.ts';
import { passwordFaults, PASSWORD_LENGTH_MAX } from './password-rules.ts';
import { rolesOf, rolesText } from './roles.ts';
import { hashOfSecret } from './secret.ts';
import { newSession, personOf } from './sessions.ts';
import { needed, numberOf, statement, textOf, type Row, type Statement } from './tables.ts';
import { countTry } from './tries.ts';
import type { Turnstile } from './turnstile.ts';

/** The first user sets the plant up: users and devices as admin, limits and spindles as engineer. */
const FIRST_USER_ROLES: readonly Role[] = ['engineer', 'admin'];
const BUSY: Wait = { kind: 'wait', retryAfterS: 5 };

export async function signIn(
  context: Context,
  turnstile: Turnstile,
  { name, password, from }: { name: string; password: string; from: string },
): Promise<SignedIn> {
  const tried = await countTry(context, name, from);
  if (tried.retryAfterS !== undefined) return { kind: 'wait', retryAfterS: tried.retryAfterS };
  const [row] = await context.tables.rows(
    'SELECT name, roles, password FROM users WHERE name = ? AND disabled = 0',
    name,
  );
  const right = await turnstile.pass(() => matches(context, row, password));
  if (right === undefined) return BUSY;
  if (!right || row === undefined) {
    await context.tables.write(logged(context, { who: name, what: 'sign-in-refused', subject: name, from }));
    return { kind: 'wrong' };
  }
  const session = newSession(context, textOf(row, 'name'), rolesOf(row));
  await context.tables.write(
    ...session.statements,
    logged(context, { who: name, what: 'signed-in', subject: name, from }),
  );
  await tried.succeeded();
  return { kind: 'signed-in', token: session.token, person: session.person };
}

export async function join(
  context: Context,
  turnstile: Turnstile,
  request: { token: string; name: string; password: string; from: string },
): Promise<Joined> {
  const { token, name, password, from } = request;
  const tried = await countTry(context, 'one-time token', from);
  if (tried.retryAfterS !== undefined) return { kind: 'wait', retryAfterS: tried.retryAfterS };
  const [row] = await context.tables.rows('SELECT name, ends_at FROM invitations WHERE hash = ?', hashOfSecret(token));
  if (row === undefined || numberOf(row, 'ends_at') <= context.clock.now()) return refuse('token-over');
  if (!isId(name))
    return refuse('bad-name', [{ pointer: '/name', want: say`1 to 40 letters, digits or hyphens`, got: name }]);
  if (row['name'] !== null && row['name'] !== name) {
    return refuse('bad-name', [{ pointer: '/name', want: say`the name that was invited`, got: name }]);
  }
  const faults = passwordFaults(password, name);
  if (faults.length > 0) return refuse('bad-password', faults);
  const hash = await turnstile.pass(() => hashOfPassword(password, context.limits.passwordCost));
  if (hash === undefined) return BUSY;
  return admit(context, { request, first: row['name'] === null, hash, succeeded: tried.succeeded });
}

async function admit(
  context: Context,
  {
    request,
    first,
    hash,
    succeeded,
  }: {
    request: { token: string; name: string; from: string };
    first: boolean;
    hash: string;
    succeeded: () => Promise<void>;
  },
): Promise<Joined> {
  const { token, name, from } = request;
  const used = needed('DELETE FROM invitations WHERE hash = ?', hashOfSecret(token));
  const written = await context.tables.write(
    used,
    first ? firstUser(context, name, hash) : needed('UPDATE users SET password = ? WHERE name = ?', hash, name),
    logged(context, { who: name, what: 'user-joined', subject: name, from }),
  );
  if (!written) return refuse('token-over');
  await succeeded();
  const [user] = await context.tables.rows('SELECT roles FROM users WHERE name = ? AND disabled = 0', name);
  if (user === undefined) return refuse('not-known');
  const session = newSession(context, name, rolesOf(user));
  await context.tables.write(...session.statements);
  return { kind: 'signed-in', token: session.token, person: session.person };
}

/** Changes nothing when there is a user already: the token of a first sign-in then opens nothing. */
function firstUser({ clock }: Context, name: string, hash: string): Statement {
  return needed(
    `INSERT INTO users (name, name_folded, roles, disabled, password, created_at, created_by)
     SELECT ?, ?, ?, 0, ?, CAST(? AS BIGINT), ? WHERE NOT EXISTS (SELECT 1 FROM users)`,
    name,
    name.toLowerCase(),
    rolesText(FIRST_USER_ROLES),
    hash,
    clock.now(),
    name,
  );
}

export async function changePassword(
  context: Context,
  turnstile: Turnstile,
  request: { token: string; password: string; next: string; from: string },
): Promise<PasswordChanged> {
  const person = await personOf(context, request.token, true);
  if (person === undefined) return { kind: 'wrong' };
  const tried = await countTry(context, person.name, request.from);
  if (tried.retryAfterS !== undefined) return { kind: 'wait', retryAfterS: tried.retryAfterS };
  const faults = passwordFaults(request.next, person.name);
  if (faults.length > 0) return refuse('bad-password', faults);
  const [row] = await context.tables.rows('SELECT password FROM users WHERE name = ?', person.name);
  const hash = await turnstile.pass(async () =>
    (await matches(context, row, request.password))
      ? await hashOfPassword(request.next, context.limits.passwordCost)
      : '',
  );
  if (hash === undefined) return BUSY;
  if (hash === '') return { kind: 'wrong' };
  const session = newSession(context, person.name, person.roles);
  await context.tables.write(
    statement('UPDATE users SET password = ? WHERE name = ?', hash, person.name),
    statement('DELETE FROM sessions WHERE name = ?', person.name),
    ...session.statements,
    logged(context, { who: person.name, what: 'password-changed', subject: person.name, from: request.from }),
  );
  await tried.succeeded();
  context.tell({ kind: 'person-changed', name: person.name });
  return { kind: 'changed', token: session.token, person: session.person };
}

async function matches({ limits }: Context, row: Row | undefined, password: string): Promise<boolean> {
  const stored = row?.['password'];
  const given = password.slice(0, PASSWORD_LENGTH_MAX * 2);
  return typeof stored === 'string' ? passwordMatches(given, stored) : spendAsMuch(given, limits.passwordCost);
}
