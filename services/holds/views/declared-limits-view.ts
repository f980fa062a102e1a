// What is declared of all spindles, in the order of their names: a row each, no history, so that thousands cost little.
import type { DeclaredLimits, DeclaredRow } from '../../../shared/declared-limits.ts';
import type { Instant } from '../../../shared/time.ts';
import type { Floor, SpindleState } from '../../rules/index.ts';
import { defined } from './defined.ts';
import { limitViews } from './spindle-view.ts';

export function declaredLimitsView({ spindles }: Pick<Floor, 'spindles'>, now: Instant): DeclaredLimits {
  const rows = [...spindles.values()].map(rowOf);
  return { now, spindles: rows.toSorted((a, b) => (a.spindleId < b.spindleId ? -1 : 1)) };
}

function rowOf({ spindleId, declaration, live }: SpindleState): DeclaredRow {
  const zones = declaration?.zones;
  return {
    spindleId,
    limits: limitViews(declaration),
    ...defined({
      machine: declaration?.machine,
      cell: declaration?.cell,
      interface: declaration?.interface,
      maxSpeedRpm: declaration?.maxSpeedRpm,
      zones: zones === undefined ? undefined : { ...zones, ...defined({ enteredBy: declaration?.zonesBy }) },
      declaredBy: declaration?.by,
      declaredAt: declaration?.at,
      sensor: live.sensor,
      lastReadingAt: live.lastReadingAt,
    }),
  };
}
