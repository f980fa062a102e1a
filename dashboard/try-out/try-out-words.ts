// The words of a try-out: the three states with their marks, what people found, and what the answer comes to.
import type { SVGTemplateResult, TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import type { TryOutAnswer, HoldOnRecord } from '../../shared/try-out.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_A_SECOND } from '../time-spans.ts';
import { count } from '../wording/figures.ts';
import { day, duration } from '../wording/instants.ts';
import type { DayState } from './days-shape.ts';

export const STATE_WORDS: Readonly<Record<DayState, string>> = {
  both: 'both',
  'only-now': 'only now',
  'only-then': 'only then',
};

export const STATE_MEANS: Readonly<Record<DayState, string>> = {
  both: 'held as things are, and with the draft',
  'only-now': 'held as things are, not with the draft',
  'only-then': 'not held as things are, held with the draft',
};

/** In a square of 10 × 10 at a place: a full square, an open one, a full diamond. */
export function stateShape(state: DayState, x: number, y: number): SVGTemplateResult {
  switch (state) {
    case 'both':
      return svg`<rect class="both" x=${x + 1} y=${y + 1} width="8" height="8" />`;
    case 'only-now':
      return svg`<rect class="only-now" x=${x + 1.75} y=${y + 1.75} width="6.5" height="6.5" />`;
    case 'only-then':
      return svg`<path class="only-then" d="M${x + 5} ${y + 0.5} L${x + 9.5} ${y + 5} L${x + 5} ${y + 9.5} L${x + 0.5} ${y + 5} Z" />`;
  }
}

export function stateMark(state: DayState): TemplateResult {
  return html`<span class="state"
    ><svg width="16" height="16" viewBox="0 0 10 10" aria-hidden="true">${stateShape(state, 0, 0)}</svg>
    <span>${STATE_WORDS[state]}</span></span
  >`;
}

export const SAID_WORDS: Readonly<Record<NonNullable<HoldOnRecord['said']>, string>> = {
  confirmed: 'something was found',
  'nothing-found': 'nothing was found',
  'in-error': 'raised in error',
};

/** One sentence of what the draft would have changed. */
export function cameTo({ counts, holds }: Pick<TryOutAnswer, 'counts' | 'holds'>): string {
  const { both, onlyNow, onlyThen } = counts;
  const now = both + onlyNow;
  const found = holds.filter((hold) => hold.tried === undefined && hold.recorded?.said === 'confirmed').length;
  const lost = found === 0 ? '' : ` Of those that would be gone, something was found at ${found}.`;
  if (now + onlyThen === 0) return 'No hold for a limit as things are, and none with the draft.';
  return `${count(now, 'hold', 'holds')} as things are, ${both + onlyThen} with the draft: ${both} the same, ${onlyNow} only now, ${onlyThen} only then.${lost}`;
}

const NAMED_MAX = 10;

/** What was looked through, and what speaks against comparing it. */
export function lookedThrough(
  { from, readFrom, readings, spindles, tookMs, fromBefore, declaredMeanwhile }: Omit<TryOutAnswer, 'holds' | 'counts'>,
  zone: string,
): string {
  const took = tookMs < MILLISECONDS_A_SECOND ? 'less than a second' : duration(tookMs);
  const named = declaredMeanwhile.slice(0, NAMED_MAX).join(', ');
  const unnamed = declaredMeanwhile.length - NAMED_MAX;
  return [
    `${count(readings, 'reading', 'readings')} of ${count(spindles.length, 'spindle', 'spindles')} that the draft touches, in ${took}.`,
    ...(readFrom - from < MILLISECONDS_A_DAY ? [] : [`Nothing is on record from before ${day(readFrom, zone)}.`]),
    'Holds for a limit only: others do not change by it.',
    ...(fromBefore === 0 ? [] : [`${count(fromBefore, 'hold', 'holds')} from before these days cannot be compared.`]),
    ...(named === ''
      ? []
      : [
          `Limits were declared meanwhile for ${named}${unnamed > 0 ? ` and ${unnamed} more` : ''}: a difference may come from that.`,
        ]),
  ].join(' ');
}

export const HOLDS_LESS_WORDS =
  'What would have held less would also have found less: it says nothing about the machines. The limits of the machine and tool makers govern, and local rules.';
