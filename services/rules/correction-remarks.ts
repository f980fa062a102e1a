// What is remarked of a correction: what was done beyond the rules of its place, that its build is not the newest.
import { say } from '../../shared/language/index.ts';
import { lastCorrection } from './correction-order.ts';
import type { CorrectionEntry } from './correction-state.ts';
import { currentBuild } from './in-force.ts';
import type { Outcomes } from './raising.ts';

export function remarkCorrection(outcomes: Outcomes, entry: CorrectionEntry): void {
  const { assemblyId, buildId } = entry.data;
  const subject = { kind: 'assembly', id: assemblyId } as const;
  const assembly = outcomes.layer.assembly(assemblyId);
  const correction = assembly?.corrections.find((one) => one.position === entry.position);
  if (assembly === undefined) return;
  const current = currentBuild(assembly);
  if (correction?.ofUnknownBuild === false && current !== undefined && current.buildId !== buildId)
    outcomes.remark(subject, say`build ${buildId} was corrected, but ${current.buildId} is the newest`);
  for (const remark of [...(correction?.remarks ?? []), ...(correction?.shortfalls ?? [])])
    outcomes.remark(subject, remark);
  const inItsPlace = correction?.placedAt !== entry.position;
  if (!inItsPlace && lastCorrection(assembly, buildId)?.position !== entry.position)
    outcomes.remark(subject, say`this correction came after a later one; it is on record`);
}

/** Of corrections that a result is the first to speak after: what came of them. */
export function remarkAchieved(outcomes: Outcomes, assemblyId: string): void {
  const closed = outcomes.layer
    .assembly(assemblyId)
    ?.corrections.filter((one) => one.after === outcomes.entry.position);
  for (const { shortfalls } of closed ?? [])
    for (const remark of shortfalls) outcomes.remark({ kind: 'assembly', id: assemblyId }, remark);
}
