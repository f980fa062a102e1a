// Limits, zones and bearings as YAML: lists of rows under their names, or a plain list of limits.
import { isMap, isScalar, isSeq, LineCounter, parseDocument, type Document, type YAMLMap } from 'yaml';
import { say } from '../../shared/language/index.ts';
import type { LimitFileFault } from '../../shared/limits-import.ts';
import { ROW_KINDS, shown, type RawFile, type RawRow, type RowKind } from './rows.ts';
import { syntaxFaults } from './yaml-faults.ts';
import { lineOf, lineWithin } from './yaml-lines.ts';

interface Reading {
  readonly document: Document;
  readonly lines: LineCounter;
}

export function readYaml(text: string): RawFile {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  if (document.errors.length > 0) {
    return { rows: [], faults: syntaxFaults(document, lines) };
  }
  const reading = { document, lines };
  const { contents } = document;
  if (isSeq(contents)) return rowsOf(reading, 'limits', contents);
  if (!isMap(contents)) return { rows: [], faults: [lists(0, '')] };
  const parts = contents.items.map((pair): RawFile => {
    const name = isScalar(pair.key) ? String(pair.key.value) : '';
    const kind = ROW_KINDS.find((known) => known === name);
    if (kind === undefined) return { rows: [], faults: [lists(lineOf(reading.lines, pair.key), name)] };
    return rowsOf(reading, kind, pair.value);
  });
  return { rows: parts.flatMap((part) => part.rows), faults: parts.flatMap((part) => part.faults) };
}

const lists = (line: number, got: string): LimitFileFault => ({
  line,
  field: got,
  want: say`lists of rows under ${ROW_KINDS.join(', ')}`,
  got,
});

function rowsOf(reading: Reading, kind: RowKind, list: unknown): RawFile {
  if (!isSeq(list))
    return { rows: [], faults: [{ line: lineOf(reading.lines, list), field: kind, want: say`a list`, got: '' }] };
  const rows: RawRow[] = [];
  const faults: LimitFileFault[] = [];
  for (const item of list.items) {
    const line = lineOf(reading.lines, item);
    if (isMap(item))
      rows.push({
        kind,
        line,
        lineOf: (field) => lineWithin(reading.lines, item, field.split('.')),
        fields: plain(reading, item),
      });
    else faults.push({ line, field: kind, want: say`a row of fields`, got: shown(isScalar(item) ? item.value : '') });
  }
  return { rows, faults };
}

/** Without anchors: a file of limits needs none, and a few lines of them can stand for millions. */
function plain({ document }: Reading, map: YAMLMap): Record<string, unknown> {
  try {
    return map.toJS(document, { maxAliasCount: 0 }) as Record<string, unknown>;
  } catch {
    return { '*': 'an alias' };
  }
}
