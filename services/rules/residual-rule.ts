// Rule (a): the residual unbalance exceeds the permissible at service speed, the measuring error counted.
import type { Clause } from '../../shared/holds.ts';
import { say } from '../../shared/language/index.ts';
import { currentBuild, measurementInForce } from './in-force.ts';
import type { MeasurementState } from './floor.ts';
import { passing } from './paired.ts';
import { pairingOf } from './pairing.ts';
import type { Outcomes } from './raising.ts';
import { amountWords, rpmWords } from '../../shared/wording.ts';

function sourceOf({ judgement }: MeasurementState): string {
  const { gradeMmS = 0, serviceSpeedRpm = 0, massKg = 0 } = judgement;
  return say`ISO 21940-11: G ${amountWords(gradeMmS)}, ${amountWords(massKg)} kg, ${rpmWords(serviceSpeedRpm)}; measuring error per ISO 21940-14`;
}

/** First the residual as it was read, then less its error: the one says by how much, the other decides. */
export function residualClauses(measurement: MeasurementState): readonly Clause[] {
  const { part, partResidualGmm, partErrorGmm, partPermissibleGmm = 0 } = measurement.judgement;
  const where = part === 'whole' ? '' : part === 'plane-a' ? say`, first plane` : say`, second plane`;
  const shared = { limit: partPermissibleGmm, unit: 'g.mm', source: sourceOf(measurement) };
  return [
    { what: say`residual unbalance as measured${where}`, measured: partResidualGmm, ...shared },
    {
      what: say`residual unbalance less its measuring error${where}`,
      measured: Math.max(0, partResidualGmm - partErrorGmm),
      ...shared,
    },
  ];
}

/** Puts an assembly on hold whose newest build, by its measurement in force, exceeds; undecided is not exceeding. */
export function residualRule(outcomes: Outcomes, assemblyId: string, { repeats }: { readonly repeats: boolean }): void {
  const assembly = outcomes.layer.assembly(assemblyId);
  if (assembly === undefined) return;
  const measurement = measurementInForce(assembly, currentBuild(assembly)?.buildId);
  if (measurement?.judgement.kind !== 'exceeds') return;
  if (pairingOf(assembly, undefined).deviation !== undefined) return;
  const { serviceSpeedRpm: speedRpm = 0 } = measurement.judgement;
  const { buildId, position } = measurement;
  const positions = [...new Set([position, outcomes.entry.position])].toSorted((a, b) => a - b);
  outcomes.raise(
    {
      subject: { kind: 'assembly', id: assemblyId },
      reason: 'residual-exceeds',
      evidence: { positions, clauses: residualClauses(measurement), assemblyId, buildId, speedRpm },
      conditions: [passing({ assembly }, speedRpm)],
    },
    { repeats },
  );
}
