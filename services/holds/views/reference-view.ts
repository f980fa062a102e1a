// Reference figures: the plant's own rows first, then the defaults that they do not replace.
import type { ReferenceView } from '../../../shared/reference-view.ts';
import { referenceTables } from '../../../shared/reference/index.ts';
import type { Floor } from '../../rules/index.ts';
import { defined } from './defined.ts';

export function referenceView({ reference }: Pick<Floor, 'reference'>): ReferenceView {
  const { interfaces, densities, grades } = referenceTables(reference);
  return {
    interfaces: interfaces.map((row) => ({ ...row })),
    densities: densities.map((row) => ({ ...row })),
    grades: grades.map((row) => ({ ...row })),
    ...defined({ declaredBy: reference?.by, declaredAt: reference?.at }),
  };
}
