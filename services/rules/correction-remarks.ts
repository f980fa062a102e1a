// What is remarked of a correction: what was done beyond the rules of its place, that its build is not the newest.
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
    outcomes.remark(subject, `build ${buildId} was corrected, but ${current.buildId} is the newest`);
  for (const remark of correction?.remarks ?? []) outcomes.remark(subject, remark);
  if (lastCorrection(assembly, buildId)?.position !== entry.position)
    outcomes.remark(subject, 'this correction came after a later one; it is on record');
}

/** Of corrections that a result is the first to speak after: what came of them. */
export function remarkAchieved(outcomes: Outcomes, assemblyId: string): void {
  const { layer, entry } = outcomes;
  const known = layer.floor.assemblies.get(assemblyId)?.corrections;
  const closed = layer.assembly(assemblyId)?.corrections.filter((one) => one.after === entry.position);
  for (const { position, remarks } of closed ?? []) {
    const said = known?.find((one) => one.position === position)?.remarks.length ?? 0;
    for (const remark of remarks.slice(said)) outcomes.remark({ kind: 'assembly', id: assemblyId }, remark);
  }
}
