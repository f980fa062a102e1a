// Users: invited by an administrator who never learns their password, changed, disabled; the last administrator stays.
import { isId, type Role } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import { logged, refuse, type Context } from './context.ts';
import type { Changed, Invited, UserView } from './faces.ts';
import { rolesOf, rolesText } from './roles.ts';
import { hashOfSecret, newToken } from './secret.ts';
import { needed, numberOf, numberOrNone, statement, textOf, type Row, type Statement } from './tables.ts';

const COLUMNS = 'name, roles, disabled, password, created_at, created_by, last_sign_in_at';

export async function users({ tables }: Context): Promise<readonly UserView[]> {
  return (await tables.rows(`SELECT ${COLUMNS} FROM users ORDER BY name_folded`)).map(viewOf);
}

export async function userNamed({ tables }: Context, name: string): Promise<UserView | undefined> {
  const [row] = await tables.rows(`SELECT ${COLUMNS} FROM users WHERE name = ?`, name);
  return row === undefined ? undefined : viewOf(row);
}

export async function invite(
  context: Context,
  by: string,
  { name, roles }: { name: string; roles: readonly Role[] },
): Promise<Invited> {
  if (!isId(name))
    return refuse('bad-name', [{ pointer: '/name', want: say`1 to 40 letters, digits or hyphens`, got: name }]);
  if (roles.length === 0) return refuse('no-roles');
  const { token, endsAt, statements } = invitation(context, name);
  const written = await context.tables.write(
    needed(
      `INSERT INTO users (name, name_folded, roles, disabled, password, created_at, created_by)
       VALUES (?, ?, ?, 0, NULL, ?, ?) ON CONFLICT DO NOTHING`,
      name,
      name.toLowerCase(),
      rolesText(roles),
      context.clock.now(),
      by,
    ),
    ...statements,
    logged(context, { who: by, what: 'user-invited', subject: `${name} as ${roles.join(', ')}`, from: '' }),
  );
  const user = written ? await userNamed(context, name) : undefined;
  return user === undefined ? refuse('name-taken') : { kind: 'invited', user, token, endsAt };
}

export async function changeUser(
  context: Context,
  by: string,
  name: string,
  change: { roles?: readonly Role[]; disabled?: boolean; reset?: boolean },
): Promise<Changed> {
  const before = await userNamed(context, name);
  if (before === undefined) return refuse('not-known');
  const roles = change.roles ?? before.roles;
  const disabled = change.disabled ?? before.disabled;
  if (roles.length === 0) return refuse('no-roles');
  const remainsAdmin = roles.includes('admin') && !disabled && change.reset !== true;
  const invited = change.reset === true ? invitation(context, name) : undefined;
  const written = await context.tables.write(
    needed(
      `UPDATE users SET roles = ?, disabled = ? WHERE name = ? AND (? = 1 OR EXISTS (
         SELECT 1 FROM users other WHERE other.name <> ? AND other.disabled = 0 AND other.password IS NOT NULL
           AND other.roles LIKE ?))`,
      rolesText(roles),
      disabled ? 1 : 0,
      name,
      remainsAdmin ? 1 : 0,
      name,
      '%"admin"%',
    ),
    ...(invited === undefined ? [] : [statement('UPDATE users SET password = NULL WHERE name = ?', name)]),
    ...(invited?.statements ?? []),
    ...(disabled || invited !== undefined ? [statement('DELETE FROM sessions WHERE name = ?', name)] : []),
    logged(context, { who: by, what: 'user-changed', subject: wordsOf(name, { roles, disabled, change }), from: '' }),
  );
  if (!written) return refuse('last-admin');
  // Told of any change: what somebody holds open is looked at again with the new roles.
  context.tell({ kind: 'person-changed', name });
  const user = await userNamed(context, name);
  if (user === undefined) return refuse('not-known');
  return invited === undefined
    ? { kind: 'changed', user }
    : { kind: 'changed', user, token: invited.token, endsAt: invited.endsAt };
}

/** A one-time token with which the named user chooses a password; without a name, the first user a name too. */
export function invitation(
  { clock, limits }: Context,
  name: string | null,
): { token: string; endsAt: number; statements: readonly Statement[] } {
  const token = newToken();
  const endsAt = clock.now() + (name === null ? limits.firstSignInMs : limits.invitationMs);
  const earlier =
    name === null
      ? statement('DELETE FROM invitations WHERE name IS NULL')
      : statement('DELETE FROM invitations WHERE name = ?', name);
  const made = statement(
    'INSERT INTO invitations (hash, name, ends_at) VALUES (?, ?, ?)',
    hashOfSecret(token),
    name,
    endsAt,
  );
  return { token, endsAt, statements: [earlier, made] };
}

function wordsOf(
  name: string,
  { roles, disabled, change }: { roles: readonly Role[]; disabled: boolean; change: { reset?: boolean } },
): string {
  return `${name}: ${roles.join(', ')}${disabled ? '; disabled' : ''}${change.reset === true ? '; password reset' : ''}`;
}

function viewOf(row: Row): UserView {
  const lastSignInAt = numberOrNone(row, 'last_sign_in_at');
  return {
    name: textOf(row, 'name'),
    roles: rolesOf(row),
    disabled: numberOf(row, 'disabled') === 1,
    hasPassword: row['password'] !== null,
    createdAt: numberOf(row, 'created_at'),
    createdBy: textOf(row, 'created_by'),
    ...(lastSignInAt === undefined ? {} : { lastSignInAt }),
  };
}
