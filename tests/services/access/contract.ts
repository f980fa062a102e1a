// What access promises, whatever its tables stand in: one suite, run over SQLite and over PostgreSQL.
import { existsSync, readFileSync, statSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { ACCESS_LIMITS, type AccessStore } from '../../../services/access/index.ts';
import { benches, FROM, PASSWORD, START, type OpenTables } from './bench.ts';
import { deviceContract } from './device-contract.ts';

export function accessContract(name: string, openTables: OpenTables): void {
  deviceContract(name, openTables);
  const { bench, withAdmin, withUser } = benches(openTables);

  describe(`access on ${name}`, () => {
    test('the first user comes in with a one-time token from a file that only the owner may read', async () => {
      const b = await bench();
      const offer = await b.access.offerFirstSignIn();
      expect(offer?.file).toBe(b.file);
      expect(readFileSync(b.file, 'utf8').trim()).toBe(offer?.token);
      expect(statSync(b.file).mode & 0o777).toBe(0o600);
      const joined = await b.access.join({ token: offer?.token ?? '', name: 'Ada', password: PASSWORD, from: FROM });
      expect(joined).toMatchObject({ kind: 'signed-in', person: { name: 'Ada', roles: ['engineer', 'admin'] } });
      expect(existsSync(b.file)).toBe(false);
      expect(await b.access.offerFirstSignIn()).toBeUndefined();
      const twice = await b.access.join({ token: offer?.token ?? '', name: 'Eve', password: PASSWORD, from: FROM });
      expect(twice).toMatchObject({ kind: 'refused', code: 'token-over' });
    });

    test('of two who use the first token at the same moment one comes in', async () => {
      const b = await bench();
      const token = (await b.access.offerFirstSignIn())?.token ?? '';
      const names = ['Ada', 'Eve'];
      const both = await Promise.all(
        names.map((n) => b.access.join({ token, name: n, password: PASSWORD, from: FROM })),
      );
      expect(both.map((joined) => joined.kind).toSorted()).toEqual(['refused', 'signed-in']);
      expect(await b.access.users()).toHaveLength(1);
    });

    test('a first token is over after its time, and when a later one was offered', async () => {
      const b = await bench();
      const first = await b.access.offerFirstSignIn();
      const second = await b.access.offerFirstSignIn();
      const attempt = (token = ''): Promise<unknown> =>
        b.access.join({ token, name: 'Ada', password: PASSWORD, from: FROM });
      expect(await attempt(first?.token)).toMatchObject({ code: 'token-over' });
      b.pass(ACCESS_LIMITS.firstSignInMs);
      expect(await attempt(second?.token)).toMatchObject({ code: 'token-over' });
    });

    test('passwords: too short, too common, or mainly the name are refused with what was expected', async () => {
      const b = await bench();
      const token = (await b.access.offerFirstSignIn())?.token ?? '';
      for (const password of ['short', 'Password123', 'ababababab', 'ada-lovelace-ada1']) {
        const joined = await b.access.join({ token, name: 'ada-lovelace-ada', password, from: `to-${password}` });
        expect(joined, password).toMatchObject({ code: 'bad-password', faults: [{ pointer: '/password' }] });
      }
      const umlaut = await b.access.join({ token, name: 'Ada', password: 'Über-8-Zeichen', from: FROM });
      expect(umlaut.kind).toBe('signed-in');
      // The same letters, typed on a keyboard that composes them.
      const typed = 'Über-8-Zeichen'.normalize('NFD');
      expect((await b.access.signIn({ name: 'Ada', password: typed, from: FROM })).kind).toBe('signed-in');
    });

    test('signing in gives a new session each time; a wrong password and an unknown name look the same', async () => {
      const b = await bench();
      const first = await withAdmin(b);
      const second = await b.access.signIn({ name: 'Ada', password: PASSWORD, from: FROM });
      if (second.kind !== 'signed-in') throw new Error(second.kind);
      expect(second.token).not.toBe(first);
      expect(Buffer.from(second.token, 'base64url').length).toBeGreaterThanOrEqual(16);
      expect(await b.access.signIn({ name: 'Ada', password: 'not this one', from: FROM })).toEqual({ kind: 'wrong' });
      expect(await b.access.signIn({ name: 'Nobody', password: PASSWORD, from: FROM })).toEqual({ kind: 'wrong' });
      expect(await b.access.personOf(`${first}x`)).toBeUndefined();
    });

    test('nothing that is stored opens anything', async () => {
      const b = await bench({});
      const token = await withAdmin(b);
      const enrolled = await b.access.enrol('Ada', { device: 'bench-1', kind: 'bench', serves: [] });
      const secret = enrolled.kind === 'enrolled' ? enrolled.secret : '';
      const rows = await Promise.all(
        ['users', 'sessions', 'invitations', 'device_secrets', 'access_log'].map((t) =>
          b.tables.rows(`SELECT * FROM ${t}`),
        ),
      );
      const stored = JSON.stringify(rows);
      expect(secret.length).toBeGreaterThan(20);
      for (const word of [token, secret, PASSWORD]) expect(stored).not.toContain(word);
      expect(stored).toContain('scrypt$32768$8$3$');
    });

    test('a session ends at signing out, after idling, and at its absolute limit whatever is done with it', async () => {
      const b = await bench();
      const out = await withAdmin(b);
      await b.access.signOut(out, FROM);
      expect(await b.access.personOf(out)).toBeUndefined();

      const signIn = async (): Promise<string> => {
        const signed = await b.access.signIn({ name: 'Ada', password: PASSWORD, from: FROM });
        return signed.kind === 'signed-in' ? signed.token : '';
      };
      const idle = await signIn();
      b.pass(ACCESS_LIMITS.sessionIdleMs - 1);
      expect(await b.access.personOf(idle, { use: false })).toMatchObject({ name: 'Ada' });
      b.pass(1);
      expect(await b.access.personOf(idle)).toBeUndefined();

      const busy = await signIn();
      const step = ACCESS_LIMITS.sessionIdleMs / 2;
      const steps = ACCESS_LIMITS.sessionAbsoluteMs / step;
      for (let n = 1; n < steps; n += 1) {
        b.pass(step);
        expect(await b.access.personOf(busy), `after ${n} steps`).toBeDefined();
      }
      b.pass(step);
      expect(await b.access.personOf(busy)).toBeUndefined();
    });

    test('a role taken away is gone at the next request; a disabled user has no session and cannot sign in', async () => {
      const b = await bench();
      await withAdmin(b);
      const token = await withUser(b, 'Mia', ['maintenance', 'viewer']);
      expect((await b.access.personOf(token))?.roles).toEqual(['viewer', 'maintenance']);
      await b.access.changeUser('Ada', 'Mia', { roles: ['viewer'] });
      expect((await b.access.personOf(token))?.roles).toEqual(['viewer']);
      await b.access.changeUser('Ada', 'Mia', { disabled: true });
      expect(await b.access.personOf(token)).toBeUndefined();
      expect((await b.access.signIn({ name: 'Mia', password: PASSWORD, from: FROM })).kind).toBe('wrong');
      expect(b.changes.at(-1)).toEqual({ kind: 'person-changed', name: 'Mia' });
      await b.access.changeUser('Ada', 'Mia', { disabled: false });
      expect(await b.access.personOf(token)).toBeUndefined();
    });

    test('an invited user chooses the password; a reset ends the sessions and lets choose again', async () => {
      const b = await bench();
      await withAdmin(b);
      expect((await b.access.signIn({ name: 'Mia', password: '', from: FROM })).kind).toBe('wrong');
      const session = await withUser(b, 'Mia', ['operator']);
      const reset = await b.access.changeUser('Ada', 'Mia', { reset: true });
      expect(await b.access.personOf(session)).toBeUndefined();
      expect((await b.access.signIn({ name: 'Mia', password: PASSWORD, from: FROM })).kind).toBe('wrong');
      const token = reset.kind === 'changed' ? (reset.token ?? '') : '';
      const stolen = await b.access.join({ token, name: 'Ada', password: PASSWORD, from: FROM });
      expect(stolen).toMatchObject({ code: 'bad-name' });
      const next = await b.access.join({ token, name: 'Mia', password: 'another fine day', from: FROM });
      expect(next).toMatchObject({ kind: 'signed-in', person: { roles: ['operator'] } });
    });

    test('changing one’s own password asks for the old one and ends all other sessions', async () => {
      const b = await bench();
      const here = await withAdmin(b);
      const there = await b.access.signIn({ name: 'Ada', password: PASSWORD, from: FROM });
      const next = 'eleven quiet owls';
      const ask = (password: string): ReturnType<AccessStore['changePassword']> =>
        b.access.changePassword({ token: here, password, next, from: FROM });
      expect(await ask('not the old one')).toEqual({ kind: 'wrong' });
      const changed = await ask(PASSWORD);
      if (changed.kind !== 'changed') throw new Error(changed.kind);
      expect(await b.access.personOf(changed.token)).toMatchObject({ name: 'Ada' });
      expect(await b.access.personOf(here)).toBeUndefined();
      expect(await b.access.personOf(there.kind === 'signed-in' ? there.token : '')).toBeUndefined();
      expect((await b.access.signIn({ name: 'Ada', password: next, from: FROM })).kind).toBe('signed-in');
    });

    test('the last administrator cannot be demoted, disabled or reset', async () => {
      const b = await bench();
      await withAdmin(b);
      for (const change of [{ roles: ['viewer'] as const }, { disabled: true }, { reset: true }]) {
        expect(await b.access.changeUser('Ada', 'Ada', change)).toMatchObject({ code: 'last-admin' });
      }
      await b.access.invite('Ada', { name: 'Bo', roles: ['admin'] });
      // Bo has not chosen a password yet: nobody could sign in as an administrator.
      expect(await b.access.changeUser('Ada', 'Ada', { disabled: true })).toMatchObject({ code: 'last-admin' });
      await withUser(b, 'Cy', ['admin']);
      expect(await b.access.changeUser('Cy', 'Ada', { disabled: true })).toMatchObject({ kind: 'changed' });
    });

    test('names that differ in capitals only are one name', async () => {
      const b = await bench();
      await withAdmin(b);
      expect(await b.access.invite('Ada', { name: 'ADA', roles: ['viewer'] })).toMatchObject({ code: 'name-taken' });
      await b.access.enrol('Ada', { device: 'bench-1', kind: 'bench', serves: [] });
      const alike = await b.access.enrol('Ada', { device: 'Bench-1', kind: 'bench', serves: [] });
      expect(alike).toMatchObject({ code: 'name-taken' });
    });

    test('tries are limited per name and address, over restarts too, and a good one does not count', async () => {
      const b = await bench();
      await withAdmin(b);
      const tries = (from: string, password: string, access = b.access): ReturnType<AccessStore['signIn']> =>
        access.signIn({ name: 'Ada', password, from });
      const burst = await Promise.all(
        Array.from({ length: ACCESS_LIMITS.triesPerNameAndAddressMax + 3 }, () => tries('10.0.0.9', 'wrong guess')),
      );
      const kinds = burst.map((answer) => answer.kind);
      expect(kinds.filter((kind) => kind === 'wrong')).toHaveLength(ACCESS_LIMITS.triesPerNameAndAddressMax);
      expect(kinds.filter((kind) => kind === 'wait')).toHaveLength(3);
      expect(await tries('10.0.0.9', PASSWORD, await b.again())).toMatchObject({ kind: 'wait', retryAfterS: 900 });
      expect((await tries('10.0.0.8', PASSWORD)).kind).toBe('signed-in');
      b.pass(ACCESS_LIMITS.triesWindowMs + 1);
      for (let n = 0; n < ACCESS_LIMITS.triesPerNameAndAddressMax + 2; n += 1) {
        expect((await tries('10.0.0.9', PASSWORD)).kind).toBe('signed-in');
      }
    });

    test('the record says who did what to whom and when, one line each, whatever strangers type', async () => {
      const b = await bench();
      const token = await withAdmin(b);
      b.pass(1000);
      await b.access.signIn({ name: 'Eve\n2026 Ada signed-in', password: 'guessing on', from: '10.0.0.9' });
      b.pass(1000);
      await b.access.signOut(token, FROM);
      const [last, refused] = await b.access.log({ limit: 10 });
      expect(last).toEqual({ at: START + 2000, who: 'Ada', what: 'signed-out', subject: 'Ada', from: FROM });
      expect(refused).toMatchObject({ what: 'sign-in-refused', who: 'Eve?2026 Ada signed-in', from: '10.0.0.9' });
    });
  });
}
