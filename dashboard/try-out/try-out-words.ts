// The words of a try-out: the three states with their marks, what people found, and what the answer comes to.
import type { SVGTemplateResult, TemplateResult } from 'lit';
import { html, svg } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { TryOutAnswer, HoldOnRecord, RulesRead } from '../../shared/try-out.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_A_SECOND } from '../time-spans.ts';
import { count } from '../wording/figures.ts';
import { day, duration } from '../wording/instants.ts';
import type { DayState } from './days-shape.ts';

export const STATE_WORDS: Readonly<Record<DayState, string>> = {
  both: say`both`,
  'only-now': say`only now`,
  'only-then': say`only then`,
};

export const STATE_MEANS: Readonly<Record<DayState, string>> = {
  both: say`held as things are, and with the draft`,
  'only-now': say`held as things are, not with the draft`,
  'only-then': say`not held as things are, held with the draft`,
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
  confirmed: say`something was found`,
  'nothing-found': say`nothing was found`,
  'in-error': say`raised in error`,
};

/** One sentence of what the draft would have changed. */
export function cameTo({ counts, holds }: Pick<TryOutAnswer, 'counts' | 'holds'>): string {
  const { both, onlyNow, onlyThen } = counts;
  const now = both + onlyNow;
  const found = holds.filter((hold) => hold.tried === undefined && hold.recorded?.said === 'confirmed').length;
  if (now + onlyThen === 0) return say`No hold for a limit as things are, and none with the draft.`;
  const came = say`${count(now, 'hold', 'holds')} as things are, ${both + onlyThen} with the draft: ${both} the same, ${onlyNow} only now, ${onlyThen} only then.`;
  return found === 0 ? came : `${came} ${say`Of those that would be gone, something was found at ${found}.`}`;
}

/** A fault in the text of a rule set: what stands there is a quote. */
export function textFaultWords({ line, field, want, got }: RulesRead['faults'][number]): string {
  const named = field === '' ? say`the text` : field;
  const where = line === 0 ? named : say`line ${line}, ${named}`;
  const wanted = retell(want);
  return got === '' ? say`${where}: expected ${wanted}` : say`${where}: expected ${wanted}, not ${got}`;
}

const NAMED_MAX = 10;

/** What was looked through, and what speaks against comparing it. */
export function lookedThrough(
  { from, readFrom, readings, spindles, tookMs, fromBefore, declaredMeanwhile }: Omit<TryOutAnswer, 'holds' | 'counts'>,
  zone: string,
): string {
  const took = tookMs < MILLISECONDS_A_SECOND ? say`less than a second` : duration(tookMs);
  const named = declaredMeanwhile.slice(0, NAMED_MAX).join(', ');
  const unnamed = declaredMeanwhile.length - NAMED_MAX;
  return [
    say`${count(readings, 'reading', 'readings')} of ${count(spindles.length, 'spindle', 'spindles')} that the draft touches, in ${took}.`,
    ...(readFrom - from < MILLISECONDS_A_DAY ? [] : [say`Nothing is on record from before ${day(readFrom, zone)}.`]),
    say`Holds for a limit only: others do not change by it.`,
    ...(fromBefore === 0
      ? []
      : [say`${count(fromBefore, 'hold', 'holds')} from before these days cannot be compared.`]),
    ...(named === ''
      ? []
      : [
          unnamed > 0
            ? say`Limits were declared meanwhile for ${named} and ${unnamed} more: a difference may come from that.`
            : say`Limits were declared meanwhile for ${named}: a difference may come from that.`,
        ]),
  ].join(' ');
}

export const HOLDS_LESS_WORDS = say`What would have held less would also have found less: it says nothing about the machines. The limits of the machine and tool makers govern, and local rules.`;
