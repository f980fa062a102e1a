// Sessions: a random token with the browser, its hash with us, so that we can end one at any time.
import type { Role } from '../../shared/ids.ts';
import { MILLISECONDS_A_MINUTE } from '../../shared/time.ts';
import { logged, type Context } from './context.ts';
import type { Person } from './faces.ts';
import { rolesOf } from './roles.ts';
import { hashOfSecret, newToken } from './secret.ts';
import { numberOf, statement, textOf, type Statement } from './tables.ts';

/** Use is written down at most this often, so that reading pages costs no disk writes. */
const USE_RECORDED_EVERY_MS = MILLISECONDS_A_MINUTE;

export interface NewSession {
  readonly token: string;
  readonly person: Person;
  readonly statements: readonly Statement[];
}

export function newSession({ clock, limits }: Context, name: string, roles: readonly Role[]): NewSession {
  const token = newToken();
  const now = clock.now();
  return {
    token,
    person: { name, roles, signedInAt: now, endsAt: now + limits.sessionAbsoluteMs },
    statements: [
      statement(
        'INSERT INTO sessions (hash, name, started_at, used_at) VALUES (?, ?, ?, ?)',
        hashOfSecret(token),
        name,
        now,
        now,
      ),
      statement('UPDATE users SET last_sign_in_at = ? WHERE name = ?', now, name),
    ],
  };
}

export async function personOf(context: Context, token: string, use: boolean): Promise<Person | undefined> {
  const { tables, clock, limits } = context;
  const hash = hashOfSecret(token);
  const [row] = await tables.rows(
    `SELECT s.name, s.started_at, s.used_at, u.roles FROM sessions s JOIN users u ON u.name = s.name
     WHERE s.hash = ? AND u.disabled = 0`,
    hash,
  );
  if (row === undefined) return undefined;
  const now = clock.now();
  const startedAt = numberOf(row, 'started_at');
  const usedAt = numberOf(row, 'used_at');
  const endsAt = startedAt + limits.sessionAbsoluteMs;
  if (now >= endsAt || now >= usedAt + limits.sessionIdleMs) {
    await tables.write(statement('DELETE FROM sessions WHERE hash = ?', hash));
    return undefined;
  }
  if (use && now - usedAt >= USE_RECORDED_EVERY_MS) {
    await tables.write(statement('UPDATE sessions SET used_at = ? WHERE hash = ?', now, hash));
  }
  return { name: textOf(row, 'name'), roles: rolesOf(row), signedInAt: startedAt, endsAt };
}

export async function signOut(context: Context, token: string, from: string): Promise<void> {
  const person = await personOf(context, token, false);
  if (person === undefined) return;
  await context.tables.write(
    statement('DELETE FROM sessions WHERE hash = ?', hashOfSecret(token)),
    logged(context, { who: person.name, what: 'signed-out', subject: person.name, from }),
  );
  // Other sessions of the person live on; whoever holds something open for this one looks again and finds it gone.
  context.tell({ kind: 'person-changed', name: person.name });
}

export async function endSessions(context: Context, by: string, name: string): Promise<void> {
  await context.tables.write(
    statement('DELETE FROM sessions WHERE name = ?', name),
    logged(context, { who: by, what: 'sessions-ended', subject: name, from: '' }),
  );
  context.tell({ kind: 'person-changed', name });
}
