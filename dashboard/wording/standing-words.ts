// The word beside each mark, and why a reading cannot be compared, in the shop's words.
import { say } from '../../shared/language/index.ts';
import type { Standing, SpindleRow } from '../../shared/views.ts';
import type { NotComparableReason, SubjectState } from '../../shared/outcomes.ts';

export const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  'in-family': say`in family`,
  watch: say`watch`,
  hold: say`hold`,
  'no-data': say`cannot be judged`,
};

export const NOT_COMPARABLE_WORDS: Readonly<Record<NotComparableReason, string>> = {
  cutting: say`cutting`,
  unsteady: say`speed not steady`,
  'sensor-fault': say`sensor at fault`,
  standstill: say`standing still`,
  'nothing-loaded': say`nothing loaded`,
  late: say`came too late`,
  'no-synchronous': say`no 1× component sent`,
  'on-hold': say`on hold`,
  cold: say`not warm yet`,
  'wrong-speed': say`speed told wrongly`,
  'planned-work': say`worked on, as planned`,
};

export const SUBJECT_STATE_WORDS: Readonly<Record<SubjectState, string>> = {
  reporting: say`reporting`,
  silent: say`silent`,
  implausible: say`not plausible`,
  offline: say`offline`,
  stuck: say`stuck at one value`,
  mistimed: say`telling old times`,
};

/** Observed over expected 1×, where both are known. */
export function ratioOf(row: Pick<SpindleRow, 'synchronousMmS' | 'expectedMmS'>): number | undefined {
  const { synchronousMmS, expectedMmS } = row;
  if (synchronousMmS === undefined || expectedMmS === undefined || expectedMmS <= 0) return undefined;
  return synchronousMmS / expectedMmS;
}

/** Why the last reading says nothing about the assembly; undefined when it can be compared. */
export function notComparableWords(row: SpindleRow): string | undefined {
  if (row.lastReadingAt === undefined) return say`no reading yet`;
  if (row.state !== 'reporting') return SUBJECT_STATE_WORDS[row.state];
  if (row.notComparable !== undefined) return NOT_COMPARABLE_WORDS[row.notComparable];
  if (row.comparable === false) return say`not comparable`;
  return row.expectedMmS === undefined ? say`response not known` : undefined;
}

/** Words of the rules that stand alone on a page: with a capital and a full stop. */
export function asSentence(words: string): string {
  const trimmed = words.trim();
  if (trimmed === '') return trimmed;
  const first = trimmed.charAt(0).toUpperCase() + trimmed.slice(1);
  return /[.!?]$/.test(first) ? first : `${first}.`;
}
