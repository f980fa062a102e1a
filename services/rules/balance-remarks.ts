// What is remarked of a build or a result beside the rules: what it contradicts, and whether it is the one in force.
import type { EntryOf } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import { buildRemarks } from './build-remarks.ts';
import { orderOf } from './clock.ts';
import { isCorrectedSince } from './correction-order.ts';
import { remarkAchieved } from './correction-remarks.ts';
import type { Floor, Stamp } from './floor.ts';
import { currentBuild, measurementInForce } from './in-force.ts';
import type { Outcomes } from './raising.ts';

export function remarkResult(outcomes: Outcomes, entry: EntryOf<'result'>): void {
  const { assemblyId, buildId } = entry.data;
  const assembly = outcomes.layer.assembly(assemblyId);
  const subject = { kind: 'assembly', id: assemblyId } as const;
  const measurement = assembly?.measurements.find((one) => one.position === entry.position);
  if (assembly === undefined || measurement === undefined) {
    outcomes.remark(subject, say`this result could not be evaluated; it is on record`);
    return;
  }
  for (const remark of measurement.remarks) outcomes.remark(subject, remark);
  if (measurement.worse !== undefined) outcomes.remark(subject, measurement.worse);
  remarkAchieved(outcomes, assemblyId);
  if (measurement.inDoubt !== undefined)
    outcomes.remark(subject, say`this result is in doubt with its bench ${entry.device}: ${measurement.inDoubt}`);
  const current = currentBuild(assembly);
  const isInForce = measurementInForce(assembly, buildId) === measurement;
  const corrected = isCorrectedSince(assembly, measurement);
  const ofBuild = assembly.measurements.filter((other) => other.buildId === buildId);
  if (current?.buildId !== buildId)
    outcomes.remark(subject, say`build ${buildId} was measured, but ${current?.buildId ?? say`none`} is the newest`);
  else if (corrected)
    outcomes.remark(
      subject,
      say`this result was measured before the last correction; it is on record and does not count`,
    );
  else if (isDoubtful(measurement, ofBuild))
    outcomes.remark(
      subject,
      isInForce
        ? say`this result tells an earlier time than one that came before it; it counts all the same: ${isClockSet(entry)}`
        : say`this result tells an earlier time than one that came before it; it is on record, and the other, which is worse, stands: ${isClockSet(entry)}`,
    );
  else if (!isInForce)
    outcomes.remark(subject, say`this result came after a later one; it is on record and does not replace it`);
  if (current?.declared === false) outcomes.remark(subject, say`build ${current.buildId} has not been declared`);
}

export function remarkBuild(floor: Floor, outcomes: Outcomes, entry: EntryOf<'build'>): void {
  const { assemblyId, buildId } = entry.data;
  const subject = { kind: 'assembly', id: assemblyId } as const;
  const assembly = outcomes.layer.assembly(assemblyId);
  const current = assembly === undefined ? undefined : currentBuild(assembly);
  if (current !== undefined && current.buildId !== buildId)
    outcomes.remark(subject, say`build ${buildId} came after ${current.buildId}, which is newer; it is on record`);
  if (current?.position === entry.position && isDoubtful(current, assembly?.builds ?? []))
    outcomes.remark(
      subject,
      say`build ${buildId} tells an earlier time than one that came before it; it counts as the newer: ${isClockSet(entry)}`,
    );
  for (const remark of buildRemarks(entry.data)) outcomes.remark(subject, remark);
  const known = floor.assemblies.get(assemblyId)?.builds.find((build) => build.buildId === buildId);
  const after = assembly?.builds.find((build) => build.buildId === buildId)?.measuredAfter ?? 0;
  if (known !== undefined && after > known.measuredAfter)
    outcomes.remark(
      subject,
      say`build ${buildId} was declared again with other parts; measurements before do not count`,
    );
}

const isClockSet = ({ device }: EntryOf<'build'> | EntryOf<'result'>): string => say`is the clock of ${device} set?`;

interface Stamped {
  readonly position: number;
  readonly stamp: Stamp;
}

/** Whether only a clock contradicts the order of arrival, and nothing proves that it does so rightly. */
function isDoubtful({ position, stamp }: Stamped, others: readonly Stamped[]): boolean {
  const orders = others.filter((other) => other.position < position).map((other) => orderOf(stamp, other.stamp));
  return orders.includes('doubtful') && !orders.includes('before');
}
