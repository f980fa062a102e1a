// The lines of the record by day: when, who, what, about what, in whose words, and the entry itself.
import { nothing, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import { say } from '../../shared/language/index.ts';
import type { RecordAbout, RecordLine } from '../../shared/record.ts';
import type { RecordAboutKind } from '../../shared/record-kinds.ts';
import type { Api } from '../api.ts';
import { html } from '../language/html.ts';
import '../raw-message.ts';
import { addressOf, assemblyAddress, holdAddress, spindleAddress } from '../router.ts';
import { clockTime, day, type PlantClock } from '../wording/instants.ts';
import { lineWords } from './line-words.ts';

interface Day {
  readonly name: string;
  readonly lines: RecordLine[];
}

export function recordList(lines: readonly RecordLine[], clock: PlantClock, api: Api): TemplateResult {
  // One grid for all days: what stands under what is the same on each of them.
  return html`<div class="days">
    ${daysOf(lines, clock.zone).map(
      ({ name, lines: ofDay }) =>
        html`<h3 class="day">${name}</h3>
          <ol class="lines">
            ${repeat(
              ofDay,
              ({ position, ordinal }) => `${position}.${ordinal}`,
              (line) => item(line, isRepeated(line, lines), { clock, api }),
            )}
          </ol>`,
    )}
  </div>`;
}

function daysOf(lines: readonly RecordLine[], zone: string): readonly Day[] {
  const days: Day[] = [];
  for (const line of lines) {
    const name = day(line.at, zone);
    const last = days.at(-1);
    if (last?.name === name) last.lines.push(line);
    else days.push({ name, lines: [line] });
  }
  return days;
}

/** What a person wrote with an act stands with the act; its effect would only say it again. */
function isRepeated({ position, ordinal, note }: RecordLine, lines: readonly RecordLine[]): boolean {
  return (
    ordinal > 0 && lines.some((other) => other.position === position && other.ordinal === 0 && other.note === note)
  );
}

function item(
  line: RecordLine,
  isNoteRepeated: boolean,
  { clock, api }: { readonly clock: PlantClock; readonly api: Api },
): TemplateResult {
  const { position, ordinal, at, by, note, about } = line;
  const isDecided = ordinal > 0;
  return html`<li class=${isDecided ? 'decided' : 'acted'}>
    <time class="nowrap" datetime=${new Date(at).toISOString()}>${clockTime(at, clock.zone)}</time>
    <span class="who">${whoOf(by, isDecided)}</span>
    <div class="told">
      ${lineWords(line, clock)} ${note === undefined || isNoteRepeated ? nothing : html`<p class="note">${note}</p>`}
      ${about.length === 0 ? nothing : html`<div class="about">${about.map(aboutLink)}</div>`}
    </div>
    <raw-message .api=${api} .position=${position}></raw-message>
  </li>`;
}

function whoOf(by: string | undefined, isDecided: boolean): TemplateResult | string {
  if (by === undefined) return say`the rules`;
  const link = html`<a href=${addressOf({ page: 'acts', by })}>${by}</a>`;
  return isDecided ? html`the rules, after ${link}` : link;
}

function aboutLink(about: RecordAbout): TemplateResult {
  const { kind, id } = about;
  const words = ABOUT_WORDS[kind](id);
  const address = addressFor(about);
  return address === undefined ? html`<span>${words}</span>` : html`<a href=${address}>${words}</a>`;
}

const ABOUT_WORDS: Readonly<Record<RecordAboutKind, (id: string) => string>> = {
  hold: (id) => say`hold ${id}`,
  spindle: (id) => say`spindle ${id}`,
  assembly: (id) => `${say`assembly`} ${id}`,
  bench: (id) => `${say`bench`} ${id}`,
  plant: (id) => `${say`plant`} ${id}`,
};

function addressFor({ kind, id }: RecordAbout): string | undefined {
  switch (kind) {
    case 'hold':
      return holdAddress(id);
    case 'spindle':
      return spindleAddress(id);
    case 'assembly':
      return assemblyAddress(id);
    case 'bench':
      return addressOf({ page: 'tool-room' });
    case 'plant':
      return undefined;
  }
}
