// What each file imports, read from its text: import and export statements, dynamic imports, worker threads' files.
import { dirname, join } from 'node:path/posix';
import { withoutComments } from './source-text.ts';
import { type Checkout, sourcesOf } from './checkout.ts';

const SPECIFIERS = [
  /^\s*(?:import|export)\b[^;'"]*?\bfrom\s*['"]([^'"]+)['"]/gm,
  /^\s*import\s*['"]([^'"]+)['"]/gm,
  /\bimport\(\s*['"]([^'"]+)['"]/g,
  /\bnew URL\(\s*['"](\.[^'"]+\.(?:[cm]?[jt]s))['"]\s*,\s*import\.meta\.url/g,
];

export interface Import {
  readonly from: string;
  /** A path from the root for a relative import, else the package's name as written. */
  readonly to: string;
  readonly relative: boolean;
  /** What was built is started as a whole, as a person starts it: that goes past no face. */
  readonly built: boolean;
}

export function importsOf(path: string, text: string, checkout: Checkout): readonly Import[] {
  const code = withoutComments(text);
  const found = SPECIFIERS.flatMap((pattern) => [...code.matchAll(pattern)].map((match) => match[1] ?? ''));
  return found.map((specifier) => {
    if (!specifier.startsWith('.')) return { from: path, to: specifier, relative: false, built: false };
    const to = join(dirname(path), specifier);
    return { from: path, to: sourceOf(to, checkout), relative: true, built: to.startsWith('build/') };
  });
}

export function allImports(checkout: Checkout): readonly Import[] {
  return sourcesOf(checkout).flatMap(([path, text]) => importsOf(path, text, checkout));
}

/** A file that is started, not imported, is named as it is called when built: its source ends in .ts, outside build/. */
function sourceOf(path: string, checkout: Checkout): string {
  const source = path.replace(/^build\//, '').replace(/\.js$/, '.ts');
  return checkout.files.has(source) ? source : path;
}
