// A correction as people see it: what was done, what it should have changed, and what it did change.
import type { CorrectionView } from '../../../shared/assembly-views.ts';
import { say } from '../../../shared/language/index.ts';
import type { CorrectionState } from '../../rules/index.ts';
import { defined } from './defined.ts';

export function correctionView(correction: CorrectionState): CorrectionView {
  const { position, at, buildId, steps, remarks, shortfalls, achieved, predicted, replacedBy } = correction;
  // With several between two measurements only all of them together can be told against what came about.
  const wanted = achieved?.predicted ?? predicted;
  return {
    position,
    at,
    buildId,
    steps: steps.map((step) => ({ ...step })),
    planes: wanted.map(({ name, gmm, angleDeg }, index) => ({
      name,
      predictedGmm: gmm,
      predictedAngleDeg: angleDeg,
      ...defined({
        achievedGmm: achieved?.achieved[index]?.gmm,
        achievedAngleDeg: achieved?.achieved[index]?.angleDeg,
      }),
    })),
    remarks: [
      ...(replacedBy === undefined
        ? []
        : [say`its record was mistaken: the correction at ${replacedBy} counts in its place`]),
      ...remarks,
      ...shortfalls,
    ],
    ...defined({
      by: correction.by,
      bench: correction.bench,
      planId: correction.planId,
      insteadOf: correction.insteadOf,
      replacedBy,
      note: correction.note,
      before: achieved?.before ?? correction.before,
      after: correction.after,
    }),
  };
}
