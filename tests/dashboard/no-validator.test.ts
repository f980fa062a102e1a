// The browser needs the shapes of messages as types only: a validator would be the largest thing that it loads.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const IMPORT = /^\s*(?:import|export)\s+(?!type\b)(?:[^'"]*?\sfrom\s+)?['"]([^'"]+)['"]/gm;

/** What a file imports while running; `import { type X }` alone counts too, which errs on the strict side. */
function valueImports(path: string): string[] {
  return [...readFileSync(path, 'utf8').matchAll(IMPORT)].map((match) => match[1] ?? '');
}

function reachedFrom(path: string, seen: Set<string>, packages: Set<string>): void {
  if (seen.has(path)) return;
  seen.add(path);
  for (const target of valueImports(path)) {
    if (!target.startsWith('.')) packages.add(target);
    else if (target.endsWith('.ts')) reachedFrom(resolve(dirname(path), target), seen, packages);
  }
}

test('nothing of the dashboard reaches the validator while running', () => {
  const files = readdirSync(join(ROOT, 'dashboard'), { recursive: true, encoding: 'utf8' }).filter(
    (name) => name.endsWith('.ts') && !name.endsWith('.d.ts') && !name.startsWith('vite.'),
  );
  expect(files.length).toBeGreaterThan(50);
  const seen = new Set<string>();
  const packages = new Set<string>();
  for (const name of files) reachedFrom(join(ROOT, 'dashboard', name), seen, packages);
  expect([...packages].filter((name) => !name.startsWith('lit')).sort()).toEqual([
    'uplot',
    'uplot/dist/uPlot.min.css?inline',
    'uqr',
  ]);
  expect([...seen].some((path) => path.endsWith('shared/rights.ts'))).toBe(true);
});
