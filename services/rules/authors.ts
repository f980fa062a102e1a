// Who entered a limit or a table: whoever declared it first so, not whoever declared the spindle again with it.
import type { VibrationLimit } from '../../shared/acts.ts';
import type { SpindleDeclaration } from './floor.ts';

type Entered = Pick<SpindleDeclaration, 'limits' | 'limitsBy' | 'zones' | 'zonesBy'>;

const isSame = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);

/** Authors of a new declaration by `by` after the one before. */
export function authorsAfter(
  before: SpindleDeclaration | undefined,
  { limits, zones }: Pick<Entered, 'limits' | 'zones'>,
  by: string,
): Pick<Entered, 'limitsBy' | 'zonesBy'> {
  const limitsBy = limits.map((limit) => {
    const place = before?.limits.findIndex((known) => isSame(known, limit)) ?? -1;
    return before?.limitsBy[place] ?? by;
  });
  const isKept = before?.zones !== undefined && isSame(before.zones, zones);
  return { limitsBy, zonesBy: isKept ? before.zonesBy : by };
}

/** Of one of a declaration's own limits. */
export function authorOf(
  declaration: SpindleDeclaration | undefined,
  limit: VibrationLimit | undefined,
): string | undefined {
  return limit === undefined ? undefined : declaration?.limitsBy[declaration.limits.indexOf(limit)];
}
