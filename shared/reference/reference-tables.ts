// Reference figures as they stand in a plant: its own rows first, the defaults for what it says nothing of.
import type { ReferenceDeclared } from '../acts.ts';
import { INTERFACE_SCATTER_DEFAULTS, scatterOf, type InterfaceScatter } from '../balance/index.ts';
import { DENSITY_DEFAULTS, type DensityRow } from './densities.ts';
import { GRADE_DEFAULTS, type GradeRow } from './grade-guidance.ts';

/** Of a row: whether the plant declared it itself. */
export interface Own {
  readonly own: boolean;
}

export interface ReferenceTables {
  readonly interfaces: readonly (InterfaceScatter & Own)[];
  readonly densities: readonly (DensityRow & Own)[];
  readonly grades: readonly (GradeRow & Own)[];
}

/** Written in capitals or not, with blanks or hyphens: one name. */
const plainName = (name: string): string =>
  name
    .toLowerCase()
    .replaceAll(/[\s_-]+/g, ' ')
    .trim();

/** All rows in force: the plant's own, then the defaults that it does not override, each with its source. */
export function referenceTables(declared?: ReferenceDeclared): ReferenceTables {
  return {
    interfaces: merged(declared?.interfaces, INTERFACE_SCATTER_DEFAULTS, (row) => row.interfaceKind),
    densities: merged(declared?.densities, DENSITY_DEFAULTS, (row) => row.material),
    grades: merged(declared?.grades, GRADE_DEFAULTS, (row) => row.use),
  };
}

function merged<R extends object>(
  own: readonly R[] = [],
  defaults: readonly R[],
  nameOf: (row: R) => string,
): readonly (R & Own)[] {
  const overridden = new Set(own.map((row) => plainName(nameOf(row))));
  return [
    ...own.map((row) => ({ ...row, own: true })),
    ...defaults.filter((row) => !overridden.has(plainName(nameOf(row)))).map((row) => ({ ...row, own: false })),
  ];
}

/** The density to count for a material, the plant's own first; null where it is not known. */
export function densityOf(material: string, declared?: ReferenceDeclared): (DensityRow & Own) | null {
  return named(referenceTables(declared).densities, material, (row) => row.material);
}

/** The grade that is usual for a use, the plant's own first; null where it is not known. */
export function gradeFor(use: string, declared?: ReferenceDeclared): (GradeRow & Own) | null {
  return named(referenceTables(declared).grades, use, (row) => row.use);
}

function named<R>(rows: readonly R[], name: string, nameOf: (row: R) => string): R | null {
  return rows.find((row) => plainName(nameOf(row)) === plainName(name)) ?? null;
}

/**
 * The reclamping scatter to count for an interface by trade name or kind, the plant's own first; null where it is not
 * known. Throws a RangeError for a row that is upside down.
 */
export function interfaceScatterOf(name: string, declared?: ReferenceDeclared): InterfaceScatter | null {
  return scatterOf(name, declared?.interfaces);
}
