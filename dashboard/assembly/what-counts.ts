// Whether a measurement tells the assembly's balance as it is now, and if none does, why. Pure.
import type { AssemblyView } from '../../shared/assembly-views.ts';
import type { HoldView } from '../../shared/views.ts';
import { uncheckedCorrection } from './history-rows.ts';
import { ofBuild } from './rose-shape.ts';
import { retell, say } from '../../shared/language/index.ts';

/** Between a correction, a build or a bench's missed check and the next measurement, the last one says nothing about now. */
export function whyNoneCounts({ row, corrections, measurements }: AssemblyView): string | undefined {
  if (uncheckedCorrection(corrections, row.buildId) !== undefined)
    return say`it was corrected and has not been measured since`;
  if (row.verdict === undefined) return say`it has not been measured since it was last built`;
  const inDoubt = ofBuild(measurements, row.buildId).at(-1)?.inDoubt;
  return inDoubt === undefined ? undefined : say`what was measured last is in doubt: ${retell(inDoubt)}`;
}

/** Whether a hold's sentence tells a measurement that another one has followed since. */
export function tellsAnOlder(
  { subject, evidence }: Pick<HoldView, 'subject' | 'evidence'>,
  { row, measurements }: Pick<AssemblyView, 'row' | 'measurements'>,
): boolean {
  if (subject.id !== row.assemblyId) return false;
  const newest = measurements.reduce((latest, { position }) => Math.max(latest, position), 0);
  return newest > Math.max(...evidence.positions);
}
