// Words of the tool room: what is to be done, whether a bench is believed and why, how its tests went.
import type { BenchTestView, BenchView, WorkRow } from '../../shared/tool-room.ts';
import type { Standing } from '../../shared/views.ts';

export const WORK_WORDS: Readonly<Record<WorkRow['kind'], string>> = {
  correct: 'correct',
  measure: 'measure',
  'measure-again': 'measure again',
};

/** Each state of belief has the mark of what it means elsewhere. */
export const TRUST_MARKS: Readonly<Record<BenchView['trust'], Standing>> = {
  shown: 'in-family',
  'in-doubt': 'watch',
  'not-shown': 'no-data',
};

export const TRUST_WORDS: Readonly<Record<BenchView['trust'], string>> = {
  shown: 'checked',
  'in-doubt': 'results in doubt',
  'not-shown': 'not checked',
};

export const CALIBRATION_WORDS: Readonly<Record<BenchView['calibration'], string>> = {
  'in-date': 'in date',
  'due-soon': 'due soon',
  overdue: 'overdue',
  'not-told': 'the bench does not tell',
};

export const TEST_WORDS: Readonly<Record<BenchTestView['test'], string>> = {
  'minimum-achievable': 'Minimum achievable residual unbalance',
  'reduction-ratio': 'Unbalance reduction ratio',
};

export function metWords(met: boolean | undefined): string {
  return met === undefined ? 'still to be done' : met ? 'met' : 'not met';
}
