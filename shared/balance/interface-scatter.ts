// How far off the axis a clean, good interface may sit from one clamping to the next: defaults that a plant overrides.
import { expectNotNegative } from './input-guard.ts';
import { say } from '../language/index.ts';

/** Reclamping scatter of one kind of interface, µm of eccentricity, and who says so. */
export interface InterfaceScatter {
  /** A kind (hsk, steep-taper, polygonal-taper) or, in a plant's own row, a trade name such as HSK-A63. */
  readonly interfaceKind: string;
  /** The best that is seen: used to say that a grade cannot be shown by anyone. */
  readonly lowUm: number;
  /** The worst that is usual with sound parts: used in the error budget. */
  readonly highUm: number;
  readonly source: string;
}

/** Defaults for new, clean interfaces. None of them is a standard's number; a plant's own figures come first. */
export const INTERFACE_SCATTER_DEFAULTS: readonly InterfaceScatter[] = [
  { interfaceKind: 'hsk', lowUm: 2, highUm: 3, source: say`common practice, no source` },
  { interfaceKind: 'steep-taper', lowUm: 5, highUm: 10, source: say`common practice, no source` },
  { interfaceKind: 'polygonal-taper', lowUm: 2, highUm: 2, source: say`from memory` },
];

/** Trade names by their beginnings; BT, CAT, CV and NT counted as steep tapers of 7/24 from memory. */
const KINDS_BY_TRADE_NAME: readonly (readonly [RegExp, string])[] = [
  [/^HSK[A-FT]?\d{2,3}(?!\d)/, 'hsk'],
  [/^(?:SK|BT|CAT|CV|NT|ISO)\d{2}(?!\d)/, 'steep-taper'],
  [/^PSC\d{2,3}(?!\d)/, 'polygonal-taper'],
];

/** A name as written in many ways: HSK-A63, HSK A 63 and hsk-a63 are one interface. */
const plainName = (name: string): string => name.toUpperCase().replaceAll(/[\s_-]/g, '');

/** The kind of interface that a trade name ("HSK-A63", "SK 40") stands for; null when it is not one that is known. */
export function interfaceKindOf(tradeName: string): string | null {
  const plain = plainName(tradeName);
  return KINDS_BY_TRADE_NAME.find(([beginning]) => beginning.test(plain))?.[1] ?? null;
}

/**
 * The scatter to count for an interface, given by kind or trade name: the plant's own row for that very name if it
 * has one, else its own row for the kind, else the default of the kind, else null (not known, which is not the same
 * as none). Throws a RangeError for a row that is negative, non-finite or upside down.
 */
export function scatterOf(name: string, overrides: readonly InterfaceScatter[] = []): InterfaceScatter | null {
  const rowFor = (rows: readonly InterfaceScatter[], wanted: string): InterfaceScatter | undefined =>
    rows.find((row) => plainName(row.interfaceKind) === plainName(wanted));
  const kind = interfaceKindOf(name) ?? name;
  const row = rowFor(overrides, name) ?? rowFor(overrides, kind) ?? rowFor(INTERFACE_SCATTER_DEFAULTS, kind);
  if (row === undefined) return null;
  expectNotNegative(row.lowUm, 'lowUm');
  expectNotNegative(row.highUm, 'highUm');
  if (row.highUm < row.lowUm)
    throw new RangeError(`highUm: expected at least lowUm (${row.lowUm}), came ${row.highUm}`);
  return row;
}
