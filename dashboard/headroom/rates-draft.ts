// The rates as they stand in fields, and the declaration that comes of them: whole, so that nothing declared before is lost. Pure.
import type { RatesDeclared, RatesView } from '../../shared/headroom.ts';
import { asTyped, numberTyped } from '../wording/typed-number.ts';

/** A number, who says so, and as of when, as typed. */
export interface DraftRate {
  readonly amount: string;
  readonly source: string;
  /** YYYY-MM-DD; empty where no day is told. */
  readonly date: string;
  /** The instant as it was declared: it stays while its day does. */
  readonly told: string | undefined;
}

export interface DraftCutter extends DraftRate {
  readonly cutter: string;
}

export interface RatesDraft {
  readonly currency: string;
  readonly spindleHour: DraftRate;
  /** Its amount is minutes. */
  readonly cutterChange: DraftRate;
  readonly cutters: readonly DraftCutter[];
}

const EMPTY: DraftRate = { amount: '', source: '', date: '', told: undefined };
const DAY_CHARACTERS = 10;

interface Sourced {
  readonly source: string;
  readonly sourceDate?: string | undefined;
}

const rateOf = (amount: number, { source, sourceDate: told }: Sourced): DraftRate => ({
  amount: asTyped(amount),
  source,
  date: told?.slice(0, DAY_CHARACTERS) ?? '',
  told,
});

export function draftOf(rates: RatesView | undefined): RatesDraft {
  const { currency = '', spindleHour, cutterChange, cutters = [] } = rates ?? {};
  return {
    currency,
    spindleHour: spindleHour === undefined ? EMPTY : rateOf(spindleHour.amount, spindleHour),
    cutterChange: cutterChange === undefined ? EMPTY : rateOf(cutterChange.minutes, cutterChange),
    cutters: cutters.map((one) => ({ cutter: one.cutter, ...rateOf(one.amount, one) })),
  };
}

/** One row more: for a kind of cutter that has no price yet, or for any. */
export const withCutter = (draft: RatesDraft): RatesDraft => ({
  ...draft,
  cutters: [...draft.cutters, { cutter: '', ...EMPTY }],
});

export const withoutCutter = (draft: RatesDraft, index: number): RatesDraft => ({
  ...draft,
  cutters: draft.cutters.toSpliced(index, 1),
});

export const withCutterChanged = (draft: RatesDraft, index: number, change: Partial<DraftCutter>): RatesDraft => ({
  ...draft,
  cutters: draft.cutters.map((one, place) => (place === index ? { ...one, ...change } : one)),
});

/** The second row of a kind of cutter that stands twice: only one price could count; −1 where there is none. */
export function standsTwice({ cutters }: RatesDraft): number {
  const names = cutters.map(({ cutter }) => cutter.trim());
  return names.findIndex((name, index) => name !== '' && names.indexOf(name) !== index);
}

/** Kinds of cutter that are known here and have no price yet. */
export function unpriced({ cutters }: RatesDraft, known: readonly string[]): readonly string[] {
  const priced = new Set(cutters.map(({ cutter }) => cutter.trim()));
  return known.filter((cutter) => !priced.has(cutter));
}

/** What is left empty is not declared. */
export function declaredOf({ currency, spindleHour, cutterChange, cutters }: RatesDraft): RatesDeclared {
  return {
    currency: currency.trim(),
    cutters: cutters.map((one) => ({ cutter: one.cutter.trim(), amount: amountOf(one), ...sourcedOf(one) })),
    ...(spindleHour.amount === '' ? {} : { spindleHour: { amount: amountOf(spindleHour), ...sourcedOf(spindleHour) } }),
    ...(cutterChange.amount === ''
      ? {}
      : { cutterChange: { minutes: amountOf(cutterChange), ...sourcedOf(cutterChange) } }),
  };
}

/** Whether it is a number at all is the form's own question, asked before. */
const amountOf = ({ amount }: DraftRate): number => numberTyped(amount) ?? Number.NaN;

function sourcedOf({ source, date, told }: DraftRate): { source: string; sourceDate?: string } {
  const said = { source: source.trim() };
  if (date === '') return said;
  return { ...said, sourceDate: told?.slice(0, DAY_CHARACTERS) === date ? told : `${date}T00:00:00Z` };
}
