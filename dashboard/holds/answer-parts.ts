// How soon a hold wants an answer, who was told because nobody gave one, what is planned, and whose name is still asked for.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { PRIORITY_WORDS } from '../../shared/priority-words.ts';
import type { HoldView } from '../../shared/views.ts';
import { ROLE_WORDS } from '../wording/hold-words.ts';
import { duration, moment, type PlantClock } from '../wording/instants.ts';

export function answerLines(hold: HoldView, clock: PlantClock): TemplateResult | typeof nothing {
  const { priority, secondName, work = [], escalations = [], evidence } = hold;
  const lines = [
    ...(priority === undefined
      ? []
      : [html`<b>Wants an answer ${PRIORITY_WORDS[priority.word]}:</b> ${retell(priority.why)}.`]),
    ...escalations.map(
      ({ at, level, to, waitedMs }) =>
        html`<b>Nobody had answered for ${duration(waitedMs)}:</b> level ${level},
          ${to.map((role) => ROLE_WORDS[role]).join(', ')} told, ${moment(at, clock)}.`,
    ),
    ...(secondName === undefined
      ? []
      : [
          html`<b>${secondName.askedBy} asks for a deviation,</b>
            ${moment(secondName.at, clock)}${secondName.note === undefined ? nothing : html`: “${secondName.note}”`}. It
            counts once another person has confirmed it.`,
        ]),
    ...work.map(
      ({ from, until, by, note, now }) =>
        html`<b>Work is planned${now ? say`, now` : nothing}:</b> ${moment(from, clock)} until ${moment(until, clock)},
          by ${by}: “${note}”. Nobody is told of it meanwhile, and its readings do not count.`,
    ),
    ...(evidence.lateMs === undefined
      ? []
      : [html`<b>Late:</b> what raised it came ${duration(evidence.lateMs)} after it was measured.`]),
  ];
  if (lines.length === 0) return nothing;
  return html`<ul class="answers-told">
    ${lines.map((line) => html`<li>${line}</li>`)}
  </ul>`;
}
