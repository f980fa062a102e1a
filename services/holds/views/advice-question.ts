// What correction advice is asked from: a measurement as it was judged, and its build's places as corrections left them.
import type { CorrectionQuestion, PlaneToCorrect } from '../../../shared/correction/index.ts';
import {
  concerns,
  featuresLeft,
  judgedPlaneOf,
  measurementInForceOf,
  speaksAfter,
  type AssemblyState,
  type MeasurementState,
} from '../../rules/index.ts';

/** Of the measurement at `position`, or of the one in force; undefined where there is none. */
export function adviceQuestion(assembly: AssemblyState, position?: number): CorrectionQuestion | undefined {
  const measurement =
    position === undefined
      ? measurementInForceOf(assembly)
      : assembly.measurements.find((one) => one.position === position);
  return measurement === undefined ? undefined : questionOf(assembly, measurement);
}

export function questionOf(assembly: AssemblyState, measurement: MeasurementState): CorrectionQuestion | undefined {
  const { judgement, buildId } = measurement;
  const build = assembly.builds.find((one) => one.buildId === buildId);
  const [first, second] = measurement.planes.map((plane, index): PlaneToCorrect => {
    const judged = judgedPlaneOf(measurement, index);
    return {
      name: plane.name,
      unbalance: { gmm: plane.residualGmm, angleDeg: plane.angleDeg },
      errorGmm: judged.errorGmm,
      permissibleGmm: judged.permissibleGmm ?? null,
      positionMm: plane.positionMm ?? null,
    };
  });
  if (first === undefined) return undefined;
  const done = assembly.corrections.filter((one) => concerns(assembly, one, buildId) && speaksAfter(measurement, one));
  return {
    planes: second === undefined ? [first] : [first, second],
    wholeErrorGmm: judgement.errorGmm,
    wholePermissibleGmm: judgement.permissibleGmm ?? null,
    centreOfMassMm: build?.centreOfMassMm ?? null,
    features: featuresLeft(
      build?.features ?? [],
      done.flatMap((one) => one.steps),
    ),
  };
}
