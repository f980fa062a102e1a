// How far off the axis a clean, good interface may sit from one clamping to the next: defaults that a plant overrides.
import { expectNotNegative } from './input-guard.ts';

/** Reclamping scatter of one kind of interface, µm of eccentricity, and who says so. */
export interface InterfaceScatter {
  readonly interfaceKind: string;
  /** The best that is seen: used to say that a grade cannot be shown by anyone. */
  readonly lowUm: number;
  /** The worst that is usual with sound parts: used in the error budget. */
  readonly highUm: number;
  readonly source: string;
}

/** Defaults for new, clean interfaces. None of them is a standard's number; a plant's own figures come first. */
export const INTERFACE_SCATTER_DEFAULTS: readonly InterfaceScatter[] = [
  { interfaceKind: 'hsk', lowUm: 2, highUm: 3, source: 'common practice, no source' },
  { interfaceKind: 'steep-taper', lowUm: 5, highUm: 10, source: 'common practice, no source' },
  { interfaceKind: 'polygonal-taper', lowUm: 2, highUm: 2, source: 'from memory' },
];

/**
 * The scatter to count for an interface: the plant's own row if it has one, else the default, else null (not known,
 * which is not the same as none). Throws a RangeError for an override that is negative, non-finite or upside down.
 */
export function scatterOf(interfaceKind: string, overrides: readonly InterfaceScatter[] = []): InterfaceScatter | null {
  const matches = (row: InterfaceScatter): boolean => row.interfaceKind === interfaceKind;
  const row = overrides.find(matches) ?? INTERFACE_SCATTER_DEFAULTS.find(matches);
  if (row === undefined) return null;
  expectNotNegative(row.lowUm, 'lowUm');
  expectNotNegative(row.highUm, 'highUm');
  if (row.highUm < row.lowUm)
    throw new RangeError(`highUm: expected at least lowUm (${row.lowUm}), came ${row.highUm}`);
  return row;
}
