// A rule set from YAML: every fault with its line, its field and what was expected.
import { isNode, LineCounter, parseDocument, type Document } from 'yaml';
import { PLAIN } from '../../shared/fault-words.ts';
import { RuleSetSchema, type RulesDeclared } from '../../shared/rule-set.ts';
import type { RulesRead } from '../../shared/try-out.ts';
import { shown } from './rows.ts';
import { syntaxFaults } from './yaml-faults.ts';

type Fault = RulesRead['faults'][number];

export type RuleFile =
  | { readonly kind: 'rules'; readonly rules: RulesDeclared['rules'] }
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] };

export function readRuleFile(text: string): RuleFile {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  if (document.errors.length > 0) {
    return { kind: 'faults', faults: syntaxFaults(document, lines) };
  }
  const value = plain(document);
  const read = RuleSetSchema.safeParse(value, PLAIN);
  if (read.success) return { kind: 'rules', rules: read.data };
  const faults = read.error.issues.map(({ path, message }) => {
    const field = path.map(String).join('.');
    return {
      line: lineOf(document, lines, path),
      field,
      want: message.replace(/^expected /, ''),
      got: shown(at(value, path)),
    };
  });
  return { kind: 'faults', faults };
}

/** Of the field, or of the nearest that holds it where it is missing. */
function lineOf(document: Document, lines: LineCounter, path: readonly PropertyKey[]): number {
  for (let length = path.length; length >= 0; length -= 1) {
    const node = length === 0 ? document.contents : document.getIn(path.slice(0, length), true);
    if (isNode(node) && node.range !== undefined && node.range !== null) return lines.linePos(node.range[0]).line;
  }
  return 0;
}

function at(value: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (found, key) =>
      typeof found === 'object' && found !== null ? (found as Record<PropertyKey, unknown>)[key] : undefined,
    value,
  );
}

/** Without anchors: a rule set needs none, and a few lines of them can stand for millions. */
function plain(document: Document): unknown {
  try {
    return document.toJS({ maxAliasCount: 0 });
  } catch {
    return 'an alias';
  }
}
