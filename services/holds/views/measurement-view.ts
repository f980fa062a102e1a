// A measurement as people see it: evaluated, judged, with what its error was made of and why it may be in doubt.
import type { MeasurementView } from '../../../shared/assembly-views.ts';
import { UNBOUNDED_RPM, type MeasurementState } from '../../rules/index.ts';
import { defined } from './defined.ts';

export function measurementView(measurement: MeasurementState): MeasurementView {
  const { position, at, bench, buildId, stage, planes, judgement, remarks, worse, inDoubt } = measurement;
  const { shownUpToRpm } = judgement;
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
        errorGmm: judgement.planes[index]?.errorGmm,
        permissibleGmm: judgement.planes[index]?.permissibleGmm,
        benchGmm: plane.benchGmm,
        benchAngleDeg: plane.benchAngleDeg,
      }),
    })),
    residualGmm: judgement.residualGmm,
    angleDeg: judgement.angleDeg,
    errorGmm: judgement.errorGmm,
    errorParts: judgement.errorParts.map((part) => ({ ...part })),
    verdict: judgement.kind,
    remarks: [...remarks],
    ...defined({
      permissibleGmm: judgement.permissibleGmm,
      gradeReachedMmS: judgement.gradeReachedMmS,
      highestSpeedRpm: shownUpToRpm === UNBOUNDED_RPM ? undefined : shownUpToRpm,
      missesByFactor: judgement.factor,
      worse,
      inDoubt,
    }),
  };
}
