// Reference figures: the plant's own rows first, then the defaults that they do not replace.
import { INTERFACE_SCATTER_DEFAULTS } from '../../../shared/balance/index.ts';
import type { ReferenceView } from '../../../shared/reference-view.ts';
import type { Floor } from '../../rules/index.ts';
import { defined } from './defined.ts';

export function referenceView({ reference }: Pick<Floor, 'reference'>): ReferenceView {
  const { interfaces = [], densities = [], grades = [] } = reference ?? {};
  return {
    interfaces: merged(interfaces, INTERFACE_SCATTER_DEFAULTS, (row) => row.interfaceKind),
    densities: merged(densities, [], (row) => row.material),
    grades: merged(grades, [], (row) => row.use),
    ...defined({ declaredBy: reference?.by, declaredAt: reference?.at }),
  };
}

function merged<R>(own: readonly R[], defaults: readonly R[], nameOf: (row: R) => string): (R & { own: boolean })[] {
  const plain = (row: R): string => nameOf(row).trim().toLowerCase();
  const replaced = new Set(own.map(plain));
  const others = defaults.filter((row) => !replaced.has(plain(row)));
  return [...own.map((row) => ({ ...row, own: true })), ...others.map((row) => ({ ...row, own: false }))];
}
