// The levels as somebody types them, and what is declared of them: whole, for a plant's levels are declared all at once. Pure.
import { ANSWER_AFTER_MAX_MIN, ESCALATION_LEVELS_MAX, type DeviationNames } from '../../shared/answering-limits.ts';
import type { Answering } from '../../shared/answering.ts';
import { say } from '../../shared/language/index.ts';
import { PRIORITIES, type Priority } from '../../shared/priority-words.ts';
import type { Role } from '../../shared/rights.ts';
import { numberTyped } from '../wording/typed-number.ts';

/** Minutes as they were typed. */
export type TypedMinutes = Readonly<Record<Priority, string>>;

export interface DraftLevel {
  readonly afterMin: TypedMinutes;
  readonly to: readonly Role[];
}

export interface AnsweringDraft {
  /** Lowest first. */
  readonly levels: readonly DraftLevel[];
  readonly deviationNames: DeviationNames;
}

const NOTHING_TYPED: TypedMinutes = { 'at-once': '', 'this-shift': '', 'when-planned': '' };

export function draftOf({ levels, deviationNames }: Pick<Answering, 'levels' | 'deviationNames'>): AnsweringDraft {
  return {
    deviationNames,
    levels: levels.map(({ afterMin, to }) => ({ to, afterMin: ofEach((p) => `${afterMin[p]}`) })),
  };
}

export const mayAddLevel = ({ levels }: AnsweringDraft): boolean => levels.length < ESCALATION_LEVELS_MAX;

/** Waits twice as long as the one before it where that may be; nobody is told yet. */
export function withLevel(draft: AnsweringDraft): AnsweringDraft {
  const before = draft.levels.at(-1);
  const twice = (typed: string): string => {
    const minutes = 2 * minutesOf(typed);
    return minutes >= 1 && minutes <= ANSWER_AFTER_MAX_MIN ? `${minutes}` : '';
  };
  const afterMin = before === undefined ? NOTHING_TYPED : ofEach((priority) => twice(before.afterMin[priority]));
  return { ...draft, levels: [...draft.levels, { afterMin, to: [] }] };
}

export function withoutLevel(draft: AnsweringDraft, index: number): AnsweringDraft {
  return { ...draft, levels: draft.levels.toSpliced(index, 1) };
}

export function withMinutes(draft: AnsweringDraft, index: number, priority: Priority, typed: string): AnsweringDraft {
  return changed(draft, index, ({ afterMin }) => ({ afterMin: { ...afterMin, [priority]: typed } }));
}

/** A role told, or no longer; in the order of `roles`, whatever was ticked first. */
export function withRole(
  draft: AnsweringDraft,
  index: number,
  role: Role,
  { told, roles }: { readonly told: boolean; readonly roles: readonly Role[] },
): AnsweringDraft {
  return changed(draft, index, ({ to }) => ({
    to: roles.filter((one) => (one === role ? told : to.includes(one))),
  }));
}

/** The first level of which nobody would be told; -1 where there is none. */
export const toldToNobody = ({ levels }: AnsweringDraft): number => levels.findIndex(({ to }) => to.length === 0);

/** Whether each wait can be sent is the form's own question, asked before. */
export function declaredOf({ levels, deviationNames }: AnsweringDraft, note: string): Answering {
  return {
    levels: levels.map(({ afterMin, to }) => ({ afterMin: ofEach((p) => minutesOf(afterMin[p])), to: [...to] })),
    deviationNames,
    note: note.trim(),
  };
}

/** "15 min", "1 h 30 min", "2 d": exact, so that two waits that differ are read as different. */
export function waitWords(minutes: number): string {
  const [days, hours, rest] = [Math.floor(minutes / 1440), Math.floor((minutes % 1440) / 60), minutes % 60];
  return [
    ...(days > 0 ? [say`${days} d`] : []),
    ...(hours > 0 ? [say`${hours} h`] : []),
    ...(rest > 0 ? [say`${rest} min`] : []),
  ].join(' ');
}

/** What was typed in other units; undefined where it is no wait, or reads the same in minutes. */
export function inOtherUnits(typed: string): string | undefined {
  const minutes = minutesOf(typed);
  return Number.isInteger(minutes) && minutes >= 60 && minutes <= ANSWER_AFTER_MAX_MIN ? waitWords(minutes) : undefined;
}

const minutesOf = (typed: string): number => numberTyped(typed, { inThousands: true }) ?? Number.NaN;

function ofEach<T>(of: (priority: Priority) => T): Record<Priority, T> {
  return Object.fromEntries(PRIORITIES.map((priority) => [priority, of(priority)])) as Record<Priority, T>;
}

function changed(
  draft: AnsweringDraft,
  index: number,
  change: (level: DraftLevel) => Partial<DraftLevel>,
): AnsweringDraft {
  return { ...draft, levels: draft.levels.map((one, at) => (at === index ? { ...one, ...change(one) } : one)) };
}
