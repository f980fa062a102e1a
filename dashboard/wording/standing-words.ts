// The word beside each mark, and why a reading cannot be compared, in the shop's words.
import type { Standing, SpindleRow } from '../../shared/views.ts';
import type { NotComparableReason, SubjectState } from '../../shared/outcomes.ts';

export const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  'in-family': 'in family',
  watch: 'watch',
  hold: 'hold',
  'no-data': 'cannot be judged',
};

export const NOT_COMPARABLE_WORDS: Readonly<Record<NotComparableReason, string>> = {
  cutting: 'cutting',
  unsteady: 'speed not steady',
  'sensor-fault': 'sensor at fault',
  standstill: 'standing still',
  'nothing-loaded': 'nothing loaded',
  late: 'came too late',
  'no-synchronous': 'no 1× component sent',
  'on-hold': 'on hold',
  cold: 'not warm yet',
  'wrong-speed': 'speed told wrongly',
  'planned-work': 'worked on, as planned',
};

export const SUBJECT_STATE_WORDS: Readonly<Record<SubjectState, string>> = {
  reporting: 'reporting',
  silent: 'silent',
  implausible: 'not plausible',
  offline: 'offline',
  stuck: 'stuck at one value',
  mistimed: 'telling old times',
};

/** Observed over expected 1×, where both are known. */
export function ratioOf(row: Pick<SpindleRow, 'synchronousMmS' | 'expectedMmS'>): number | undefined {
  const { synchronousMmS, expectedMmS } = row;
  if (synchronousMmS === undefined || expectedMmS === undefined || expectedMmS <= 0) return undefined;
  return synchronousMmS / expectedMmS;
}

/** Why the last reading says nothing about the assembly; undefined when it can be compared. */
export function notComparableWords(row: SpindleRow): string | undefined {
  if (row.lastReadingAt === undefined) return 'no reading yet';
  if (row.state !== 'reporting') return SUBJECT_STATE_WORDS[row.state];
  if (row.notComparable !== undefined) return NOT_COMPARABLE_WORDS[row.notComparable];
  if (row.comparable === false) return 'not comparable';
  return row.expectedMmS === undefined ? 'response not known' : undefined;
}

/** Words of the rules that stand alone on a page: with a capital and a full stop. */
export function asSentence(words: string): string {
  const trimmed = words.trim();
  if (trimmed === '') return trimmed;
  const first = trimmed.charAt(0).toUpperCase() + trimmed.slice(1);
  return /[.!?]$/.test(first) ? first : `${first}.`;
}
