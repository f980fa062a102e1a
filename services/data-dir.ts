// The data directory: made at the first start, marked with the plant whose data it holds, and never taken for another's.
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { SettingsFault, type Settings } from './settings.ts';

type Where = Pick<Settings, 'data' | 'plant' | 'journal'>;

const MARK = 'plant';
const HELD = [MARK, 'journal.sqlite', 'access.sqlite'];
/** The key of the webhooks is not among them: the service does not start with one that others may have read. */
const OWNER_ONLY_NAMES =
  /^(?:(?:journal|access|trends)\.sqlite(?:-.+)?|first-sign-in|plant|demo-devices|demo-history)$/;
const OTHERS = 0o077;
const OWNER_ONLY_DIR = 0o700;
const OWNER_ONLY_FILE = 0o600;

/** For whoever begins or goes on with a plant's data; tells whether there were none. Throws `SettingsFault` on another plant's. */
export function takeDataDir(where: Where): { readonly isNew: boolean } {
  const isNew = !holdsData(where);
  expectSamePlant(where);
  makeDir(where.data);
  closeToOthers(where.data);
  if (ownerOf(where) === undefined) {
    writeFileSync(join(where.data, MARK), `${where.plant}\n`, { mode: OWNER_ONLY_FILE });
  }
  return { isNew };
}

/**
 * For commands beside the service, which make none: a mistyped directory is no new plant. In PostgreSQL the data are
 * elsewhere, and the directory may be missing.
 */
export function expectDataDir(where: Where): void {
  if (where.journal === undefined && !holdsData(where)) {
    throw new SettingsFault(
      `${resolve(where.data)} holds no data of Counterpoise. Is --data the directory of the service? It is made by ` +
        `the first start: counterpoise serve --plant ${where.plant} --data ${where.data}`,
    );
  }
  expectSamePlant(where);
}

function holdsData({ data }: Where): boolean {
  return HELD.some((name) => existsSync(join(data, name)));
}

/** Files of a release that did not see to it, or of a copy: SQLite gives its further files the mode of the first. */
function closeToOthers(data: string): void {
  for (const name of readdirSync(data)) {
    const file = join(data, name);
    if (OWNER_ONLY_NAMES.test(name) && (statSync(file).mode & OTHERS) !== 0) chmodSync(file, OWNER_ONLY_FILE);
  }
}

function makeDir(path: string): void {
  try {
    mkdirSync(path, { recursive: true, mode: OWNER_ONLY_DIR });
  } catch (failure) {
    if (!(failure instanceof Error && 'code' in failure && failure.code === 'ENOENT')) throw failure;
    // On a disk that can only be read Node says that of each folder above; made alone it says what is the matter.
    mkdirSync(path, { mode: OWNER_ONLY_DIR });
  }
}

/** Nothing before there was such a mark, or where a full disk left an empty one. */
function ownerOf({ data }: Where): string | undefined {
  const file = join(data, MARK);
  const owner = existsSync(file) ? readFileSync(file, 'utf8').trim() : '';
  return owner === '' ? undefined : owner;
}

function expectSamePlant(where: Where): void {
  const { data, plant } = where;
  const owner = ownerOf(where);
  if (owner === undefined || owner === plant) return;
  throw new SettingsFault(
    `${resolve(data)} holds the data of plant ${owner}, not of ${plant}. Say --plant ${owner}, or another --data.`,
  );
}
