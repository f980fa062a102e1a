// Rule (a): the residual unbalance exceeds the permissible at service speed, the measuring error counted.
import type { EntryOf } from '../../shared/entries.ts';
import type { Clause } from '../../shared/holds.ts';
import { currentBuild, measurementInForce } from './assembly-state.ts';
import type { AssemblyState, MeasurementState } from './floor.ts';
import type { Layer } from './layer.ts';
import { ROUNDING_SHARE } from './limits.ts';
import type { Outcomes } from './raising.ts';

export const RESIDUAL_SOURCE = 'ISO 21940-11 for the grade and service speed of the build; error per ISO 21940-14';

export function residualRule(layer: Layer, entry: EntryOf<'result'>, outcomes: Outcomes): void {
  const assembly = layer.assembly(entry.data.assemblyId);
  const measurement = assembly?.measurements.find((one) => one.position === entry.position);
  const subject = { kind: 'assembly', id: entry.data.assemblyId } as const;
  if (assembly === undefined || measurement === undefined) {
    outcomes.remark(subject, 'this result could not be evaluated; it is on record');
    return;
  }
  for (const remark of measurement.remarks) outcomes.remark(subject, remark);
  if (!isInForce(assembly, measurement)) {
    outcomes.remark(subject, `build ${measurement.buildId} was measured, but it is not the build in force`);
    return;
  }
  const { judgement } = measurement;
  if (judgement.kind === 'exceeds') {
    const { serviceSpeedRpm: speedRpm = 0 } = judgement;
    outcomes.raise(
      {
        subject,
        reason: 'residual-exceeds',
        evidence: {
          positions: [entry.position],
          clauses: residualClauses(measurement),
          assemblyId: assembly.assemblyId,
          buildId: measurement.buildId,
          speedRpm,
        },
        conditions: [{ kind: 'passing-measurement', assemblyId: assembly.assemblyId, speedRpm }],
      },
      { repeats: true },
    );
  }
  releaseByMeasurement(measurement, assembly.assemblyId, outcomes);
}

function isInForce(assembly: AssemblyState, { position }: MeasurementState): boolean {
  return measurementInForce(assembly, currentBuild(assembly)?.buildId)?.position === position;
}

/** U − ΔU against U_per, for the part that governs. */
export function residualClauses({ judgement }: MeasurementState): readonly Clause[] {
  const { part, partResidualGmm, partErrorGmm, partPermissibleGmm = 0 } = judgement;
  const where = part === 'whole' ? '' : part === 'plane-a' ? ' of plane A' : ' of plane B';
  return [
    {
      what: `residual unbalance${where}`,
      measured: partResidualGmm,
      limit: partPermissibleGmm,
      unit: 'g.mm',
      source: RESIDUAL_SOURCE,
    },
    {
      what: `residual unbalance${where} less its measuring error`,
      measured: Math.max(0, partResidualGmm - partErrorGmm),
      limit: partPermissibleGmm,
      unit: 'g.mm',
      source: RESIDUAL_SOURCE,
    },
  ];
}

/** A measurement passes at a speed when U + ΔU stays within what is permitted there. */
function releaseByMeasurement({ judgement }: MeasurementState, assemblyId: string, outcomes: Outcomes): void {
  const { kind, shownUpToRpm } = judgement;
  if (kind !== 'within' || shownUpToRpm === undefined) return;
  outcomes.releaseWhere(
    { kind: 'assembly', id: assemblyId },
    (condition) =>
      condition.kind === 'passing-measurement' && condition.speedRpm <= shownUpToRpm * (1 + ROUNDING_SHARE),
    'a passing measurement of the build in force',
  );
}
