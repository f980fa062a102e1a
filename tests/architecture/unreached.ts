// Files that nothing leads to: left over from a change, or never wired in.
import { type Checkout, sourcesOf } from './checkout.ts';
import { importsOf } from './imports.ts';

/** Where the product is entered: by a command, by the browser, by a tool's configuration. */
const PRODUCT_ENTRIES: readonly RegExp[] = [
  /^services\/main\.ts$/,
  /^services\/commands\/counterpoise\.ts$/,
  /^dashboard\/main\.ts$/,
  /^dashboard\/vite\.config\.ts$/,
  /^dashboard\/installed\/worker\.ts$/,
  /^simulators\/run\.ts$/,
];
const TEST_ENTRIES: readonly RegExp[] = [
  /^tests\/vitest\.config\.ts$/,
  /\.test\.ts$/,
  /^tests\/(?:bench|faults|evaluate)\/run\.ts$/,
];

/** A product file has to be reached from the product; being used by its own test alone does not keep it. */
export function unreached(checkout: Checkout): readonly string[] {
  const paths = sourcesOf(checkout).map(([path]) => path);
  const product = reach(checkout, startsOf(paths, PRODUCT_ENTRIES));
  const all = reach(checkout, startsOf(paths, [...PRODUCT_ENTRIES, ...TEST_ENTRIES]));
  return paths
    .filter((path) => !(path.startsWith('tests/') ? all : product).has(path))
    .map((path) => `${path}: nothing leads to it from ${path.startsWith('tests/') ? 'a test' : 'the product'}`);
}

function startsOf(paths: readonly string[], entries: readonly RegExp[]): readonly string[] {
  return paths.filter((path) => entries.some((entry) => entry.test(path)));
}

function reach(checkout: Checkout, starts: readonly string[]): ReadonlySet<string> {
  const reached = new Set<string>();
  const todo = [...starts];
  for (let path = todo.pop(); path !== undefined; path = todo.pop()) {
    const text = checkout.files.get(path);
    if (reached.has(path) || text === undefined) continue;
    reached.add(path);
    for (const one of importsOf(path, text, checkout)) if (one.relative) todo.push(one.to);
  }
  return reached;
}
