// What a measurement says, in one sentence in the shop's words: for the bench, and for whoever reads it there.
import { say } from '../../../shared/language/index.ts';
import { amountWords, factorWords, rpmWords } from '../../../shared/wording.ts';
import type { MeasurementState } from '../../rules/index.ts';

export function verdictSentence(assemblyId: string, { judgement }: MeasurementState): string {
  const { kind, residualGmm, errorGmm, permissibleGmm = 0, factor = 0, gradeMmS = 0, serviceSpeedRpm = 0 } = judgement;
  const figures = (residual: number, error: number, permissible: number, there: string): string =>
    say`${amountWords(residual)} g·mm${there}, measuring error ${amountWords(error)} g·mm; ${amountWords(permissible)} g·mm are permissible${there} for G ${amountWords(gradeMmS)} at ${rpmWords(serviceSpeedRpm)}`;
  const whole = figures(residualGmm, errorGmm, permissibleGmm, '');
  const { part, partResidualGmm, partErrorGmm, partPermissibleGmm = 0 } = judgement;
  const governing = figures(partResidualGmm, partErrorGmm, partPermissibleGmm, part === 'whole' ? '' : say` there`);
  const where = partWords(judgement);
  switch (kind) {
    case 'within':
      return say`${assemblyId} is within: ${amountWords(residualGmm)} g·mm, measuring error ${amountWords(errorGmm)} g·mm; ${amountWords(permissibleGmm)} g·mm are permissible for G ${amountWords(gradeMmS)} at ${rpmWords(serviceSpeedRpm)}.`;
    case 'exceeds':
      return say`${assemblyId} exceeds${where}: ${factorWords(factor)} what is permissible; ${governing}. Correct it and measure again.`;
    case 'undecided':
      return say`${assemblyId} is undecided${where} within the measuring error: ${governing}. Measure again, or correct it further.`;
    case 'cannot-be-shown':
      return say`No bench can show this grade of ${assemblyId}: clamping it anew alone uses up what is permitted; ${whole}. Ask the plant engineer whether the grade is meant.`;
    case 'cannot-judge':
      return say`${assemblyId} was measured but not judged: ${amountWords(residualGmm)} g·mm, measuring error ${amountWords(errorGmm)} g·mm; its mass, service speed or grade is not known. Declare the build.`;
  }
}

function partWords({ part }: MeasurementState['judgement']): string {
  switch (part) {
    case 'whole':
      return '';
    case 'plane-a':
      return say` in its first plane`;
    case 'plane-b':
      return say` in its second plane`;
  }
}
