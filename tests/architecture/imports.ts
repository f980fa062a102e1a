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
}

export function importsOf(path: string, text: string, checkout: Checkout): readonly Import[] {
  const code = withoutComments(text);
  const found = SPECIFIERS.flatMap((pattern) => [...code.matchAll(pattern)].map((match) => match[1] ?? ''));
  return found.map((specifier) => {
    if (!specifier.startsWith('.')) return { from: path, to: specifier, relative: false };
    return { from: path, to: sourceOf(join(dirname(path), specifier), checkout), relative: true };
  });
}

export function allImports(checkout: Checkout): readonly Import[] {
  return sourcesOf(checkout).flatMap(([path, text]) => importsOf(path, text, checkout));
}

/** A worker's file is named as it is called when built; its source ends in .ts. */
function sourceOf(path: string, checkout: Checkout): string {
  const source = path.replace(/\.js$/, '.ts');
  return checkout.files.has(source) ? source : path;
}
