// The trends' thread checks nothing, so the schemas and what checks them stay out of its memory: some 15 MB of it.
import { expect, test } from 'vitest';
import { planted, readCheckout, type Checkout } from '../../architecture/checkout.ts';
import { importsOf } from '../../architecture/imports.ts';

const THREAD = 'services/trends/thread.ts';
/** Imports and exports of types alone are gone when it runs. */
const OF_TYPES = /^(?:import|export) type\b[^;]*;/gm;

/** Packages that a file reads in, by itself or through others. */
function packagesOf(checkout: Checkout, file: string): ReadonlySet<string> {
  const packages = new Set<string>();
  const seen = new Set<string>();
  const next = [file];
  for (let path = next.pop(); path !== undefined; path = next.pop()) {
    if (seen.has(path)) continue;
    seen.add(path);
    const text = (checkout.files.get(path) ?? '').replace(OF_TYPES, '');
    for (const { to, relative } of importsOf(path, text, checkout)) {
      if (relative) next.push(to);
      else packages.add(to);
    }
  }
  return packages;
}

test('no schemas in the trends’ thread', () => {
  const packages = packagesOf(readCheckout(), THREAD);
  expect([...packages]).toContain('better-sqlite3');
  expect([...packages]).not.toContain('zod');
});

test('a schema that comes in through another file is found', () => {
  const files = Object.fromEntries(readCheckout().files);
  const checkout = planted({ ...files, 'shared/series-quantities.ts': `import { Problem } from './problem.ts';\n` });
  expect([...packagesOf(checkout, THREAD)]).toContain('zod');
});
