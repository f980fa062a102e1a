// Which kind of spindle interface a trade name means, so that its reclamping scatter can be looked up.

const KINDS: readonly (readonly [RegExp, string])[] = [
  [/^HSK/, 'hsk'],
  [/^(SK|BT|BBT|CAT|CV|ISO|NT)-?\d/, 'steep-taper'],
  [/^PSC-?\d/, 'polygonal-taper'],
];

/** The kind by the name's beginning, e.g. HSK-A63 → hsk; undefined where the name says nothing. */
export function interfaceKindOf(name: string): string | undefined {
  const plain = name.trim().toUpperCase();
  return KINDS.find(([pattern]) => pattern.test(plain))?.[1];
}
