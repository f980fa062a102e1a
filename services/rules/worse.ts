// A measurement that shows more unbalance than the one before it, beyond what both may be off: said, for something happened.
import { differenceUnbalance } from '../../shared/balance/index.ts';
import { say } from '../../shared/language/index.ts';
import { amountWords } from '../../shared/wording.ts';
import { orderOf } from './clock.ts';
import { concerns, speaksAfter } from './correction-order.ts';
import { measurementInForce } from './in-force.ts';
import { judgedPlaneOf } from './judgement.ts';
import type { AssemblyState, MeasurementState } from './floor.ts';

/** Marks the measurement at `position` where it is in force now and larger than what was measured before it. */
export function withWorse(before: AssemblyState, after: AssemblyState, position: number): AssemblyState {
  const measurement = after.measurements.find((one) => one.position === position);
  if (measurement === undefined || measurementInForce(after, measurement.buildId) !== measurement) return after;
  const last = measurementInForce(before, measurement.buildId);
  // Where only clocks tell which was first, it may as well have become better.
  if (last !== undefined && orderOf(measurement.stamp, last.stamp) !== 'after') return after;
  const worse = last === undefined ? worseAfterCorrection(after, measurement) : worseWithout(last, measurement);
  if (worse === undefined) return after;
  return {
    ...after,
    measurements: after.measurements.map((one) => (one === measurement ? { ...measurement, worse } : one)),
  };
}

interface PlaneGrown {
  readonly name: string;
  readonly beforeGmm: number;
  readonly afterGmm: number;
  readonly errorGmm: number;
  readonly changeGmm: number;
}

/** Planes that are larger than before, with how far the vector moved; none where the planes are not the same. */
function grownPlanes(before: MeasurementState, after: MeasurementState): readonly PlaneGrown[] {
  if (before.planes.length !== after.planes.length) return [];
  return after.planes.flatMap((plane, index) => {
    const was = before.planes[index];
    if (was === undefined || plane.residualGmm <= was.residualGmm) return [];
    const errorGmm = Math.hypot(judgedPlaneOf(before, index).errorGmm, judgedPlaneOf(after, index).errorGmm);
    const change = differenceUnbalance(
      { gmm: plane.residualGmm, angleDeg: plane.angleDeg },
      { gmm: was.residualGmm, angleDeg: was.angleDeg },
    );
    const { name, residualGmm: afterGmm } = plane;
    return [{ name, beforeGmm: was.residualGmm, afterGmm, errorGmm, changeGmm: change.gmm }];
  });
}

function worseWithout(before: MeasurementState, after: MeasurementState): string | undefined {
  const grown = grownPlanes(before, after).find(({ changeGmm, errorGmm }) => changeGmm > errorGmm);
  if (grown === undefined) return undefined;
  return say`measured again without a correction between, it is larger: ${wordsOf(grown)}: is it clean and seated, was anything changed?`;
}

/** Against the measurement before all corrections that it is the first to speak after. */
function worseAfterCorrection(assembly: AssemblyState, after: MeasurementState): string | undefined {
  const first = assembly.corrections.find(
    (one) => concerns(assembly, one, after.buildId) && one.after === undefined && speaksAfter(after, one),
  );
  const before = assembly.measurements.find((one) => one.position === first?.before);
  if (before === undefined) return undefined;
  const grown = grownPlanes(before, after).find(({ beforeGmm, afterGmm, errorGmm }) => afterGmm - beforeGmm > errorGmm);
  if (grown === undefined) return undefined;
  return say`the correction made it worse: ${wordsOf(grown)}: was it set at the right angle?`;
}

const wordsOf = ({ name, beforeGmm, afterGmm, errorGmm }: PlaneGrown): string =>
  say`plane ${name} had ${amountWords(beforeGmm)} g·mm and has ${amountWords(afterGmm)} g·mm, beyond the ${amountWords(errorGmm)} g·mm by which both may be off`;
