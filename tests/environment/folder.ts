// A folder of a test's own, that goes when the test is done with it.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface Folder {
  readonly path: string;
  remove(): void;
}

export function makeFolder(name: string): Folder {
  const path = mkdtempSync(join(tmpdir(), `counterpoise-${name}-`));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}
