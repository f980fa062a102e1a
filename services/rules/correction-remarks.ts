// What is remarked of a correction: that its build is not the newest, that it was done where nobody declared a place.
import { lastCorrection } from './correction-order.ts';
import type { CorrectionEntry } from './correction-state.ts';
import { buildOf, currentBuild } from './in-force.ts';
import type { Outcomes } from './raising.ts';

export function remarkCorrection(outcomes: Outcomes, entry: CorrectionEntry): void {
  const { assemblyId, buildId, steps } = entry.data;
  const subject = { kind: 'assembly', id: assemblyId } as const;
  const assembly = outcomes.layer.assembly(assemblyId);
  const build = assembly === undefined ? undefined : buildOf(assembly, buildId);
  if (assembly === undefined || build === undefined) {
    const counts = (assembly?.builds.length ?? 0) === 0 ? '' : `: it counts for ${assemblyId} as it is built`;
    outcomes.remark(subject, `build ${buildId} was corrected, but nobody has declared or measured it${counts}`);
    return;
  }
  const current = currentBuild(assembly);
  if (current !== undefined && current.buildId !== buildId)
    outcomes.remark(subject, `build ${buildId} was corrected, but ${current.buildId} is the newest`);
  const known = new Set(build.features.map((feature) => feature.featureId));
  const strange = [...new Set(steps.map((step) => step.featureId))].filter((id) => !known.has(id));
  if (strange.length > 0)
    outcomes.remark(
      subject,
      `corrected at ${strange.join(', ')}, which build ${buildId} does not declare: what it should change is not known`,
    );
  const correction = assembly.corrections.find((one) => one.position === entry.position);
  for (const remark of correction?.remarks ?? []) outcomes.remark(subject, remark);
  if (lastCorrection(assembly, buildId)?.position !== entry.position)
    outcomes.remark(subject, 'this correction came after a later one; it is on record');
}

/** Of corrections that a result is the first to speak after. */
export function remarkAchieved(outcomes: Outcomes, assemblyId: string): void {
  const closed = outcomes.layer
    .assembly(assemblyId)
    ?.corrections.filter((one) => one.after === outcomes.entry.position);
  for (const { remarks } of closed ?? [])
    for (const remark of remarks) outcomes.remark({ kind: 'assembly', id: assemblyId }, remark);
}
