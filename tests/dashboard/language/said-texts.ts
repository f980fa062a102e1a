// Every text that a source says to people: the runs of its templates, and what it puts through `say`, `sayCount` and `count`.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseSync } from 'vite';
import { runsOf } from '../../../dashboard/language/template-runs.ts';
import { keyOf } from '../../../shared/language/index.ts';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
const FOLDERS = ['dashboard', 'shared', 'services'] as const;

export interface SaidText {
  readonly key: string;
  readonly path: string;
}

interface Node {
  readonly type: string;
  readonly [field: string]: unknown;
}

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as { type?: unknown }).type === 'string';

export function saidTexts(folders: readonly string[] = FOLDERS): readonly SaidText[] {
  return folders.flatMap((folder) => sourcesIn(folder).flatMap((path) => textsOf(path, read(path))));
}

export function textsOf(path: string, source: string): readonly SaidText[] {
  const said: SaidText[] = [];
  const add = (keys: readonly string[]): void => void said.push(...keys.map((key) => ({ key, path })));
  const walk = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(walk);
    if (!isNode(value)) return;
    if (value.type === 'TaggedTemplateExpression') add(ofTemplate(value));
    if (value.type === 'CallExpression') add(ofCount(value, path));
    for (const field of Object.values(value)) walk(field);
  };
  walk(parseSync(path, source).program);
  return said;
}

const nameOf = (value: unknown): string => (isNode(value) && value.type === 'Identifier' ? String(value['name']) : '');

function ofTemplate({ tag, quasi }: Node): readonly string[] {
  const strings = ((quasi as Node)['quasis'] as readonly { readonly value: { readonly cooked: string } }[]).map(
    (part) => part.value.cooked,
  );
  switch (nameOf(tag)) {
    case 'html':
    case 'svg':
      return runsOf(strings);
    case 'say':
      return [keyOf(strings)];
    default:
      return [];
  }
}

/** `count(n, 'load', 'loads')` and `sayCount(n, '{0} load', '{0} loads')`: both forms have to stand there as they are. */
function ofCount(call: Node, path: string): readonly string[] {
  const name = nameOf(call['callee']);
  if (name !== 'sayCount' && (name !== 'count' || !path.startsWith('dashboard/'))) return [];
  const forms = (call['arguments'] as readonly Node[]).slice(1, 3).map((form) => form['value']);
  // The function's own body hands on what it was given.
  if (forms.some((form) => typeof form !== 'string')) {
    if (path.endsWith('wording/figures.ts')) return [];
    throw new Error(`${path}: ${name} is given a form that is not written there: ${JSON.stringify(forms)}`);
  }
  return forms.map((form) => (name === 'count' ? `{0} ${String(form)}` : String(form)));
}

function sourcesIn(folder: string): readonly string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .map((name) => join(folder, name))
    .sort();
}

const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8');
