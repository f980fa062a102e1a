// The checkout as the architecture's checks see it: paths and their text. A planted one has the same shape.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** Folders of things that are made or fetched, and so are nobody's to read. */
const LEFT_OUT = new Set(['node_modules', 'build', 'data', 'coverage', '.git']);
const TEXT = new Set([
  '.ts',
  '.mjs',
  '.js',
  '.json',
  '.md',
  '.html',
  '.css',
  '.sql',
  '.py',
  '.sh',
  '.yaml',
  '.yml',
  '.c',
]);
/** A walk that finds fewer files than this has gone wrong, and would report success for nothing. */
const FILES_MIN = 20;

export interface Checkout {
  /** Path from the root, with forward slashes, to text. */
  readonly files: ReadonlyMap<string, string>;
  readonly exists: (path: string) => boolean;
}

export function readCheckout(root = ROOT): Checkout {
  const files = new Map<string, string>();
  const walk = (folder: string): void => {
    for (const entry of readdirSync(join(root, folder), { withFileTypes: true })) {
      const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
      if (entry.isDirectory()) {
        if (!LEFT_OUT.has(entry.name)) walk(path);
      } else if (TEXT.has(extname(entry.name)) && entry.name !== 'package-lock.json') {
        files.set(path, readFileSync(join(root, path), 'utf8'));
      }
    }
  };
  walk('');
  if (files.size < FILES_MIN) throw new Error(`only ${files.size} files were found under ${root}`);
  return { files, exists: (path) => existsSync(join(root, path)) };
}

/** A checkout of planted files, to see a check fail. */
export function planted(files: Readonly<Record<string, string>>): Checkout {
  const map = new Map(Object.entries(files));
  const folders = [...map.keys()].flatMap((path) => path.split('/').map((_, i, all) => all.slice(0, i).join('/')));
  return { files: map, exists: (path) => map.has(path) || folders.includes(path.replace(/\/$/, '')) };
}

/** The TypeScript sources, which are what the import rules are about. */
export function sourcesOf(checkout: Checkout): readonly (readonly [path: string, text: string])[] {
  return [...checkout.files].filter(([path]) => path.endsWith('.ts') && !path.endsWith('.d.ts'));
}
