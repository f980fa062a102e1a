// Words of the tool room: what is to be done, whether a bench is believed and why, how its tests went.
import { say } from '../../shared/language/index.ts';
import type { BenchTestView, BenchView, WorkRow } from '../../shared/tool-room.ts';
import type { Standing } from '../../shared/views.ts';

export const WORK_WORDS: Readonly<Record<WorkRow['kind'], string>> = {
  correct: say`correct`,
  measure: say`measure`,
  'measure-again': say`measure again`,
};

/** Each state of belief has the mark of what it means elsewhere. */
export const TRUST_MARKS: Readonly<Record<BenchView['trust'], Standing>> = {
  shown: 'in-family',
  'in-doubt': 'watch',
  'not-shown': 'no-data',
};

export const TRUST_WORDS: Readonly<Record<BenchView['trust'], string>> = {
  shown: say`checked`,
  'in-doubt': say`results in doubt`,
  'not-shown': say`not checked`,
};

export const CALIBRATION_WORDS: Readonly<Record<BenchView['calibration'], string>> = {
  'in-date': say`in date`,
  'due-soon': say`due soon`,
  overdue: say`overdue`,
  'not-told': say`the bench does not tell`,
};

export const TEST_WORDS: Readonly<Record<BenchTestView['test'], string>> = {
  'minimum-achievable': say`Minimum achievable residual unbalance`,
  'reduction-ratio': say`Unbalance reduction ratio`,
};

export function metWords(met: boolean | undefined): string {
  return met === undefined ? say`still to be done` : met ? say`met` : say`not met`;
}
