// A measurement as people see it: evaluated, judged, with what its error was made of and why it may be in doubt.
import type { MeasurementView } from '../../../shared/assembly-views.ts';
import {
  errorPartsOf,
  judgedPlaneOf,
  UNBOUNDED_RPM,
  type AssemblyState,
  type Floor,
  type MeasurementState,
} from '../../rules/index.ts';
import { defined } from './defined.ts';

export function measurementView(
  { reference }: Pick<Floor, 'reference'>,
  { builds }: Pick<AssemblyState, 'builds'>,
  measurement: MeasurementState,
): MeasurementView {
  const { position, at, bench, buildId, stage, planes, judgement, remarks, worse, inDoubt } = measurement;
  const { shownUpToRpm } = judgement;
  const build = builds.find((one) => one.buildId === buildId);
  const errorParts = errorPartsOf(measurement, build, reference?.interfaces);
  return {
    position,
    at,
    bench,
    buildId,
    stage,
    planes: planes.map(({ name, residualGmm, angleDeg, ...plane }, index) => ({
      name,
      residualGmm,
      angleDeg,
      ...defined({
        positionMm: plane.positionMm,
        errorGmm: judgedPlaneOf(measurement, index).errorGmm,
        permissibleGmm: judgedPlaneOf(measurement, index).permissibleGmm,
        benchGmm: plane.benchGmm,
        benchAngleDeg: plane.benchAngleDeg,
      }),
    })),
    residualGmm: judgement.residualGmm,
    angleDeg: judgement.angleDeg,
    errorGmm: judgement.errorGmm,
    verdict: judgement.kind,
    remarks: [...remarks],
    ...defined({
      // Left out where the plant's own figures, or the build, have changed since it was judged.
      errorParts: isAsJudged(judgement.errorGmm, errorParts) ? errorParts.map((part) => ({ ...part })) : undefined,
      permissibleGmm: judgement.permissibleGmm,
      gradeReachedMmS: judgement.gradeReachedMmS,
      highestSpeedRpm: shownUpToRpm === UNBOUNDED_RPM ? undefined : shownUpToRpm,
      missesByFactor: judgement.factor,
      worse,
      inDoubt,
    }),
  };
}

function isAsJudged(errorGmm: number, parts: ReturnType<typeof errorPartsOf>): boolean {
  return Math.abs(Math.hypot(...parts.map(({ gmm }) => gmm)) - errorGmm) <= 1e-9 * (1 + errorGmm);
}
