// What corrections between two measurements really changed, against what their steps should have changed.
import { differenceUnbalance, sumUnbalance, type UnbalanceVector } from '../../shared/balance/index.ts';
import { say } from '../../shared/language/index.ts';
import { amountWords } from '../../shared/wording.ts';
import { angleBetween } from './angle-between.ts';
import { concerns, speaksAfter } from './correction-order.ts';
import { measurementInForce } from './in-force.ts';
import { judgedPlaneOf } from './judgement.ts';
import type { Achieved, AssemblyState, CorrectionState, MeasurementState, PlaneChange } from './floor.ts';
import { ACHIEVED_ANGLE_OFF_MAX_DEG, ACHIEVED_SHARE_MIN } from './limits.ts';

/** Closes the corrections of a build that a measurement, the one in force, is the first to speak after. */
export function withAchieved(
  assembly: AssemblyState,
  buildId: string,
  after: MeasurementState | undefined = measurementInForce(assembly, buildId),
): AssemblyState {
  if (after === undefined) return assembly;
  const open = assembly.corrections.filter(
    (one) => concerns(assembly, one, buildId) && one.after === undefined && speaksAfter(after, one),
  );
  const last = open.at(-1);
  if (last === undefined) return assembly;
  const before = assembly.measurements.find((one) => one.position === open[0]?.before);
  const achieved = before === undefined ? undefined : achievedBy(open, before, after);
  const fallen = before === undefined || achieved === undefined ? [] : shortfalls(achieved, before, after);
  const closed = (one: CorrectionState): CorrectionState =>
    one === last ? { ...one, after: after.position, achieved, shortfalls: fallen } : { ...one, after: after.position };
  return { ...assembly, corrections: assembly.corrections.map((one) => (open.includes(one) ? closed(one) : one)) };
}

const vectorOf = (change: PlaneChange): UnbalanceVector => ({ gmm: change.gmm, angleDeg: change.angleDeg });

function achievedBy(
  corrections: readonly CorrectionState[],
  before: MeasurementState,
  after: MeasurementState,
): Achieved | undefined {
  if (before.planes.length !== after.planes.length) return undefined;
  if (corrections.some((one) => one.predicted.length !== before.planes.length)) return undefined;
  const predicted = before.planes.map(({ name }, index) => ({
    name,
    ...sumUnbalance(corrections.flatMap((one) => one.predicted[index] ?? []).map(vectorOf)),
  }));
  const achieved = after.planes.map(({ name, residualGmm, angleDeg }, index) => {
    const was = before.planes[index];
    const then = { gmm: was?.residualGmm ?? 0, angleDeg: was?.angleDeg ?? 0 };
    return { name, ...differenceUnbalance({ gmm: residualGmm, angleDeg }, then) };
  });
  const most = indexOfMost(predicted);
  const wanted = predicted[most];
  const got = achieved[most];
  if (wanted === undefined || got === undefined || wanted.gmm === 0) return undefined;
  return {
    before: before.position,
    after: after.position,
    bench: after.bench,
    method: [...new Set(corrections.map((one) => one.method))].toSorted().join(' + '),
    predicted,
    achieved,
    amountRatio: got.gmm / wanted.gmm,
    angleOffDeg: angleBetween(wanted.angleDeg, got.angleDeg),
  };
}

function indexOfMost(changes: readonly PlaneChange[]): number {
  let most = 0;
  for (const [index, { gmm }] of changes.entries()) if (gmm > (changes[most]?.gmm ?? 0)) most = index;
  return most;
}

/** In words, where far less came about than was predicted, or elsewhere, beyond what both measurements may be off. */
function shortfalls(
  { predicted, achieved }: Achieved,
  before: MeasurementState,
  after: MeasurementState,
): readonly string[] {
  return predicted.flatMap((wanted, index) => {
    const got = achieved[index];
    if (got === undefined || wanted.gmm === 0) return [];
    const errorGmm = Math.hypot(judgedPlaneOf(before, index).errorGmm, judgedPlaneOf(after, index).errorGmm);
    if (ACHIEVED_SHARE_MIN * wanted.gmm - got.gmm > errorGmm)
      return [
        say`the correction changed plane ${wanted.name} by ${amountWords(got.gmm)} g·mm of ${amountWords(wanted.gmm)} g·mm predicted`,
      ];
    const offDeg = angleBetween(wanted.angleDeg, got.angleDeg);
    const unsureDeg = errorGmm >= got.gmm ? 180 : (Math.asin(errorGmm / got.gmm) * 180) / Math.PI;
    if (offDeg - unsureDeg <= ACHIEVED_ANGLE_OFF_MAX_DEG) return [];
    return [
      say`the correction changed plane ${wanted.name} at ${amountWords(got.angleDeg)}°, ${amountWords(offDeg)}° from the ${amountWords(wanted.angleDeg)}° predicted: was it set from the right mark?`,
    ];
  });
}
