// What two planes amount to beside their sum: the couple, in words. Pure.
import type { MeasurementView } from '../../shared/assembly-views.ts';
import { resolveStaticAndCouple, sumUnbalance } from '../../shared/balance/index.ts';
import { unbalance, degrees } from '../wording/figures.ts';
import { say } from '../../shared/language/index.ts';

/** Undefined with one plane, or where it is not told where the planes and the centre of mass lie. */
export function coupleWords(planes: MeasurementView['planes'], centreOfMassMm: number | undefined): string | undefined {
  const [a, b] = planes;
  if (a === undefined || b === undefined) return undefined;
  const sum = sumUnbalance(planes.map(({ residualGmm: gmm, angleDeg }) => ({ gmm, angleDeg })));
  const whole = say`The whole, ${a.name} and ${b.name} added as vectors: ${unbalance(sum.gmm)} at ${degrees(sum.angleDeg)}.`;
  if (a.positionMm === undefined || b.positionMm === undefined || a.positionMm === b.positionMm)
    return `${whole} ${say`Its couple cannot be told: it is not known where the planes lie.`}`;
  // Without a centre of mass the middle between the planes stands in, and is said to.
  const middleMm = (a.positionMm + b.positionMm) / 2;
  const { couplePairInB } = resolveStaticAndCouple(
    { gmm: a.residualGmm, angleDeg: a.angleDeg },
    { gmm: b.residualGmm, angleDeg: b.angleDeg },
    { planeAMm: a.positionMm, planeBMm: b.positionMm, centreOfMassMm: centreOfMassMm ?? middleMm },
  );
  const [amount, angle] = [unbalance(couplePairInB.gmm), degrees(couplePairInB.angleDeg)];
  const couple =
    centreOfMassMm === undefined
      ? say`Its couple about the middle between the planes: ${amount} in ${b.name} at ${angle} against the same in ${a.name} opposite; a couple does not show in the sum and loads the bearings all the same.`
      : say`Its couple about the centre of mass: ${amount} in ${b.name} at ${angle} against the same in ${a.name} opposite; a couple does not show in the sum and loads the bearings all the same.`;
  return `${whole} ${couple}`;
}
