// A rule set from YAML: every fault with its line, its field and what was expected.
import { LineCounter, parseDocument, type Document } from 'yaml';
import { PLAIN } from '../../shared/fault-words.ts';
import { RuleSetSchema, type RulesDeclared } from '../../shared/rule-set.ts';
import type { RulesRead } from '../../shared/try-out.ts';
import { fieldsOf, inLineOrder, shown } from './rows.ts';
import { syntaxFaults } from './yaml-faults.ts';
import { lineWithin } from './yaml-lines.ts';

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
  const faults = read.error.issues.flatMap(fieldsOf).map(({ path, want }) => ({
    line: lineWithin(lines, document.contents, path),
    field: path.map(String).join('.'),
    want,
    got: shown(at(value, path)),
  }));
  return { kind: 'faults', faults: inLineOrder(faults) };
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
