// Access over given tables: puts users, sessions, devices and the record together behind one face.
import { chmodSync, rmSync, writeFileSync } from 'node:fs';
import { ACCESS_EVENTS, type AccessChange, type AccessStore, type LogLine } from './faces.ts';
import type { Clock } from '../../shared/time.ts';
import { logged, type Context } from './context.ts';
import { checkDevice, devices, enrol, revoke, rotate } from './devices.ts';
import { ACCESS_LIMITS, type AccessLimits } from './limits.ts';
import { endSessions, personOf, signOut } from './sessions.ts';
import { changePassword, join, signIn } from './sign-in.ts';
import { numberOf, statement, textOf, type Row, type Tables } from './tables.ts';
import { createTurnstile } from './turnstile.ts';
import { changeUser, invitation, invite, users } from './users.ts';

export interface AccessParts {
  readonly tables: Tables;
  readonly clock: Clock;
  readonly limits?: Partial<AccessLimits>;
  /** Where the first user's one-time token is left, mode 0600. */
  readonly firstSignInFile?: string;
}

export async function createAccess(parts: AccessParts): Promise<AccessStore> {
  const listeners = new Set<(change: AccessChange) => void>();
  const limits = { ...ACCESS_LIMITS, ...parts.limits };
  const context: Context = {
    tables: parts.tables,
    clock: parts.clock,
    limits,
    tell: (change) => listeners.forEach((listener) => listener(change)),
  };
  const { tables } = context;
  const turnstile = createTurnstile({ atOnceMax: limits.hashesAtOnceMax, waitingMax: limits.hashesWaitingMax });
  await prune(context);
  const hasUsers = async (): Promise<boolean> => (await tables.rows('SELECT 1 AS one FROM users LIMIT 1')).length > 0;
  if (await hasUsers()) forget(parts.firstSignInFile);
  return {
    hasUsers,
    offerFirstSignIn: async () => ((await hasUsers()) ? undefined : offer(context, parts.firstSignInFile)),
    join: async (request) => {
      const joined = await join(context, turnstile, request);
      if (joined.kind === 'signed-in') forget(parts.firstSignInFile);
      return joined;
    },
    signIn: (request) => signIn(context, turnstile, request),
    personOf: (token, options) => personOf(context, token, options?.use ?? true),
    signOut: (token, from) => signOut(context, token, from),
    changePassword: (request) => changePassword(context, turnstile, request),
    users: () => users(context),
    invite: (by, user) => invite(context, by, user),
    changeUser: (by, name, change) => changeUser(context, by, name, change),
    endSessions: (by, name) => endSessions(context, by, name),
    devices: () => devices(context),
    enrol: (by, credential) => enrol(context, by, credential),
    rotate: (by, device, overlapMs) => rotate(context, by, device, overlapMs ?? limits.rotationOverlapMs),
    revoke: (by, device) => revoke(context, by, device),
    checkDevice: (device, secret) => checkDevice(context, device, secret),
    record: async (line) => {
      await tables.write(logged(context, line));
    },
    log: async ({ limit }) =>
      (
        await tables.rows('SELECT at, who, what, subject, come_from FROM access_log ORDER BY at DESC LIMIT ?', limit)
      ).map(lineOf),
    listen: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: () => tables.close(),
  };
}

async function offer(context: Context, file: string | undefined) {
  const { token, endsAt, statements } = invitation(context, null);
  const noted = logged(context, { who: 'service', what: 'first-sign-in-offered', subject: file ?? '', from: '' });
  await context.tables.write(...statements, noted);
  if (file === undefined) return { token, endsAt };
  writeFileSync(file, `${token}\n`, { mode: 0o600 });
  // A file that was there before keeps its old mode otherwise.
  chmodSync(file, 0o600);
  return { token, endsAt, file };
}

function forget(file: string | undefined): void {
  if (file !== undefined) rmSync(file, { force: true });
}

/** What is over is of no use to anybody. */
async function prune({ tables, clock, limits }: Context): Promise<void> {
  const now = clock.now();
  await tables.write(
    statement('DELETE FROM invitations WHERE ends_at <= ?', now),
    statement('DELETE FROM sessions WHERE started_at <= ?', now - limits.sessionAbsoluteMs),
    statement('DELETE FROM tries WHERE since < ?', now - limits.triesWindowMs),
    statement('DELETE FROM device_secrets WHERE ends_at <= ?', now),
    statement('DELETE FROM access_log WHERE at < ?', now - limits.logKeptMs),
  );
}

function lineOf(row: Row): LogLine {
  const what = ACCESS_EVENTS.find((event) => event === row['what']);
  if (what === undefined) throw new Error('the access log has an event that this version does not know');
  return {
    at: numberOf(row, 'at'),
    who: textOf(row, 'who'),
    what,
    subject: textOf(row, 'subject'),
    from: textOf(row, 'come_from'),
  };
}
