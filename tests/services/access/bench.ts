// Access over given tables with a clock of the test's own; everything is gone after each test.
import { join } from 'node:path';
import { afterEach } from 'vitest';
import {
  createAccess,
  type AccessChange,
  type AccessLimits,
  type AccessStore,
  type Tables,
} from '../../../services/access/index.ts';
import type { Role } from '../../../shared/rights.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';

export const START = Date.UTC(2026, 3, 1, 6);
export const FROM = '127.0.0.1';
export const PASSWORD = 'tall grey herons';

/** A hash that takes a few milliseconds: what it protects here is nothing. */
const CHEAP: Partial<AccessLimits> = { passwordCost: 2 ** 10 };

export interface Bench {
  readonly access: AccessStore;
  readonly tables: Tables;
  readonly file: string;
  readonly changes: AccessChange[];
  pass(ms: number): void;
  /** The same tables, opened again. */
  again(): Promise<AccessStore>;
}

export type OpenTables = (folder: string) => Promise<Tables>;

export interface Benches {
  readonly bench: (limits?: Partial<AccessLimits>) => Promise<Bench>;
  /** Ada comes in first; her session. */
  readonly withAdmin: (b: Bench) => Promise<string>;
  readonly withUser: (b: Bench, user: string, roles: readonly Role[]) => Promise<string>;
}

export function benches(openTables: OpenTables): Benches {
  const folders: Folder[] = [];
  const open: Tables[] = [];
  afterEach(async () => {
    for (const tables of open.splice(0)) await tables.close();
    for (const folder of folders.splice(0)) folder.remove();
  });

  async function bench(limits: Partial<AccessLimits> = CHEAP): Promise<Bench> {
    const folder = makeFolder('access');
    folders.push(folder);
    const tables = await openTables(folder.path);
    open.push(tables);
    let now = START;
    const file = join(folder.path, 'first-sign-in');
    const again = (): Promise<AccessStore> =>
      createAccess({ tables, clock: { now: () => now }, firstSignInFile: file, limits });
    const access = await again();
    const changes: AccessChange[] = [];
    access.listen((change) => changes.push(change));
    return { access, tables, file, changes, again, pass: (ms) => void (now += ms) };
  }

  async function withAdmin(b: Bench): Promise<string> {
    const offer = await b.access.offerFirstSignIn();
    const joined = await b.access.join({ token: offer?.token ?? '', name: 'Ada', password: PASSWORD, from: FROM });
    if (joined.kind !== 'signed-in') throw new Error(joined.kind);
    return joined.token;
  }

  async function withUser(b: Bench, user: string, roles: readonly Role[]): Promise<string> {
    const invited = await b.access.invite('Ada', { name: user, roles });
    if (invited.kind !== 'invited') throw new Error(invited.code);
    const joined = await b.access.join({ token: invited.token, name: user, password: PASSWORD, from: FROM });
    if (joined.kind !== 'signed-in') throw new Error(joined.kind);
    return joined.token;
  }

  return { bench, withAdmin, withUser };
}
