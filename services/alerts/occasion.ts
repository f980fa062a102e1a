// What there is to tell of a hold just now: its state, that it waits for something, that it was raised again, that nobody answered.
import type { HoldView } from '../../shared/views.ts';

/** Why a notice is sent; a deviation is not a release by measurement and must not look like one. */
export const NOTICE_REASONS = [
  'raised',
  'raised-again',
  'escalated',
  'taken',
  'checked',
  'second-name-asked',
  'run-asked',
  'released',
  'released-by-deviation',
  'void',
] as const;
export type NoticeReason = (typeof NOTICE_REASONS)[number];

export interface Occasion {
  /** Part of the notice's id: the same for every try, never used for anything else of this hold. */
  readonly word: string;
  readonly reason: NoticeReason;
  readonly at: number;
}

type Told = Pick<HoldView, 'steps' | 'escalations'>;

/** Oldest first, the last is what there is to tell now; each once. What was told as one state stays that when it comes again. */
export function occasionsOf({ steps, escalations = [] }: Told): readonly Occasion[] {
  const ofSteps = steps.map((step, place): Occasion => ({ ...ofStep(step, place), at: step.at }));
  const ofEscalations = escalations.map(({ at }, place): Occasion => ({
    word: `escalated-${place + 1}`,
    reason: 'escalated',
    at,
  }));
  const all = [...ofSteps, ...ofEscalations].toSorted((a, b) => a.at - b.at);
  return all.filter(({ word }, place) => all.findLastIndex((one) => one.word === word) === place);
}

function ofStep({ state, awaits, deviation }: HoldView['steps'][number], place: number): Omit<Occasion, 'at'> {
  if (awaits === 'verification-run') return { word: `run-asked-${place}`, reason: 'run-asked' };
  if (awaits === 'second-name') return { word: `second-name-${place}`, reason: 'second-name-asked' };
  if (state === 'raised' && place > 0) return { word: `raised-${place}`, reason: 'raised-again' };
  return { word: state, reason: state === 'released' && deviation === true ? 'released-by-deviation' : state };
}
