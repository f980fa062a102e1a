// The version of this program, as its package says; one folder deeper where it was built.
import { existsSync, readFileSync } from 'node:fs';

const PLACES = ['../package.json', '../../package.json'];

function readVersion(): string {
  for (const place of PLACES) {
    const url = new URL(place, import.meta.url);
    if (!existsSync(url)) continue;
    const { version } = JSON.parse(readFileSync(url, 'utf8')) as { version?: unknown };
    if (typeof version === 'string') return version;
  }
  throw new Error('the package of this program says no version');
}

export const VERSION = readVersion();
