// What a measurement says, in one sentence in the shop's words: for the bench, and for whoever reads it there.
import { amountWords, factorWords, rpmWords } from '../../../shared/wording.ts';
import type { MeasurementState } from '../../rules/index.ts';

export function verdictSentence(assemblyId: string, { judgement }: MeasurementState): string {
  const { kind, residualGmm, errorGmm, permissibleGmm = 0, factor = 0, gradeMmS = 0, serviceSpeedRpm = 0 } = judgement;
  const read = `${amountWords(residualGmm)} g·mm, measuring error ${amountWords(errorGmm)} g·mm`;
  const demanded =
    `${amountWords(permissibleGmm)} g·mm are permissible for G ${amountWords(gradeMmS)} ` +
    `at ${rpmWords(serviceSpeedRpm)}`;
  const where = partWords(judgement);
  switch (kind) {
    case 'within':
      return `${assemblyId} is within: ${read}; ${demanded}.`;
    case 'exceeds':
      return `${assemblyId} exceeds${where}: ${factorWords(factor)} what is permissible; ${read}; ${demanded}. Correct it and measure again.`;
    case 'undecided':
      return `${assemblyId} is undecided${where} within the measuring error: ${read}; ${demanded}. Measure again, or correct it further.`;
    case 'cannot-be-shown':
      return `No bench can show this grade of ${assemblyId}: clamping it anew alone uses up what is permitted; ${read}; ${demanded}. Ask the plant engineer whether the grade is meant.`;
    case 'cannot-judge':
      return `${assemblyId} was measured but not judged: ${read}; its mass, service speed or grade is not known. Declare the build.`;
  }
}

function partWords({ part }: MeasurementState['judgement']): string {
  switch (part) {
    case 'whole':
      return '';
    case 'plane-a':
      return ' in its first plane';
    case 'plane-b':
      return ' in its second plane';
  }
}
