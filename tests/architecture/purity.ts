// The pure parts: no clock, no chance, no waiting, no Node. Time and randomness reach them as data.
import { type Checkout, sourcesOf } from './checkout.ts';
import { codeOnly, withoutComments } from './source-text.ts';

const PURE = ['shared/', 'services/rules/'];
/** The one pure file that names the language's own Date, to turn an instant into text and back. */
const DATE_ALLOWED_IN = 'shared/time.ts';

const IMPURE: readonly { readonly pattern: RegExp; readonly instead: string }[] = [
  { pattern: /\bDate\.now\b/, instead: 'take the instant as a parameter' },
  { pattern: /\bnew Date\(\s*\)/, instead: 'take the instant as a parameter' },
  { pattern: /\bperformance\b/, instead: 'take the instant as a parameter' },
  { pattern: /\bMath\.random\b/, instead: 'take a number, or a seeded generator, as a parameter' },
  { pattern: /\basync\b/, instead: 'let the caller do what has to be waited for' },
  { pattern: /\bawait\b/, instead: 'let the caller do what has to be waited for' },
  { pattern: /\bPromise\b/, instead: 'let the caller do what has to be waited for' },
  { pattern: /\b(?:setTimeout|setInterval|setImmediate|queueMicrotask)\b/, instead: 'let a tick arrive as data' },
  { pattern: /\b(?:process|console|globalThis|window|document|fetch)\s*[.(]/, instead: 'do I/O in another part' },
];

export function impurities(checkout: Checkout): readonly string[] {
  return sourcesOf(checkout)
    .filter(([path]) => PURE.some((folder) => path.startsWith(folder)))
    .flatMap(([path, text]) => impuritiesOf(path, text));
}

function impuritiesOf(path: string, text: string): readonly string[] {
  const code = codeOnly(text);
  const found = IMPURE.filter(({ pattern }) => pattern.test(code)).map(
    ({ pattern, instead }) => `${path}: ${pattern.exec(code)?.[0] ?? ''} in a pure part; ${instead}`,
  );
  if (path !== DATE_ALLOWED_IN && /\bDate\b/.test(code)) found.push(`${path}: Date belongs in ${DATE_ALLOWED_IN}`);
  if (/['"]node:/.test(withoutComments(text))) found.push(`${path}: a pure part imports nothing of Node`);
  return found;
}
