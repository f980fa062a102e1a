// Gate: may this assembly run in this spindle at this speed? One word, the governing speed, one reason, one next step.
import { html, nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { GateAnswer } from '../../shared/gate.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { look, presses } from '../look.ts';
import { Page } from '../page.ts';
import { holdAddress, type Route } from '../router.ts';
import { speed } from '../wording/figures.ts';
import { ASK_THE_TOOL_ROOM, GATE_MARKS, GOVERNED_BY_WORDS } from '../wording/gate-words.ts';
import { clockTime } from '../wording/instants.ts';
import { GateAsking } from './gate-asking.ts';
import { gateLook } from './gate-look.ts';
import { askOf, groundsOf, withScanned, type GateFields } from './gate-question.ts';

@customElement('gate-page')
export class GatePage extends Page {
  static override styles = [look, presses, markLook, gateLook];

  @property({ attribute: false }) replace!: (route: Route) => void;
  @state() private fields: GateFields = { spindleId: '', assemblyId: '', speed: '' };
  readonly #asking = new GateAsking(this, (asked) => this.api.gate(asked));
  #answeredAt: number | undefined;
  #lastAnswer: GateAnswer | undefined;

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('route') && this.route.page === 'gate') {
      const { spindleId = '', assemblyId = '', speedRpm } = this.route;
      this.fields = { spindleId, assemblyId, speed: speedRpm === undefined ? '' : String(speedRpm) };
    }
    const ask = askOf(this.fields);
    if (ask.kind === 'missing') this.#asking.want(undefined, `missing ${ask.what}`);
    else {
      const { spindleId, assemblyId, speedRpm } = ask;
      const asked = { spindleId, assemblyId, ...(speedRpm === undefined ? {} : { speedRpm }) };
      this.#asking.want(asked, `${spindleId} ${assemblyId} ${speedRpm ?? ''} ${groundsOf(ask, this.picture)}`);
    }
  }

  override firstUpdated(): void {
    this.renderRoot.querySelector<HTMLElement>('#scan')?.focus({ preventScroll: true });
  }

  override render() {
    return html`<div class="head">
        <h1>Gate</h1>
        <p class="question">May this assembly run in this spindle at this speed?</p>
      </div>
      <div class="gate">
        <div class="ask">${this.#scan()} ${this.#fields()}</div>
        <div class="answer" role="status" aria-live="assertive">${this.#told()}</div>
      </div>`;
  }

  #scan() {
    return html`<form @submit=${this.#onScan}>
      <label for="scan">Scan, or type an id</label>
      <input id="scan" class="scan" type="text" autocomplete="off" autocapitalize="off" spellcheck="false" />
      <button type="submit">Take it</button>
    </form>`;
  }

  #fields() {
    const { spindleId, assemblyId, speed: typed } = this.fields;
    const programmed = this.picture?.spindles.get(spindleId)?.programmedSpeedRpm;
    return html`<form class="fields" @submit=${this.#onFields}>
      <div>
        <label for="spindle">Spindle</label>
        <input id="spindle" name="spindle" list="spindles" .value=${spindleId} autocomplete="off" spellcheck="false" />
        <datalist id="spindles">
          ${[...(this.picture?.spindles.keys() ?? [])].map((id) => html`<option value=${id}></option>`)}
        </datalist>
      </div>
      <div>
        <label for="assembly">Assembly</label>
        <input id="assembly" name="assembly" .value=${assemblyId} autocomplete="off" spellcheck="false" />
      </div>
      <div>
        <label for="speed">Speed, rpm</label>
        <input
          id="speed"
          name="speed"
          inputmode="numeric"
          .value=${typed}
          autocomplete="off"
          placeholder=${programmed === undefined ? 'as programmed' : `as programmed, ${speed(programmed)}`}
        />
      </div>
      <button class="first" type="submit">Ask</button>
      <button type="button" @click=${() => this.#take({ spindleId, assemblyId: '', speed: '' })}>Next assembly</button>
    </form>`;
  }

  readonly #onScan = (event: SubmitEvent): void => {
    event.preventDefault();
    const field = this.renderRoot.querySelector<HTMLInputElement>('#scan');
    if (field === null) return;
    this.#take(withScanned(this.fields, field.value, this.picture));
    field.value = '';
    field.focus();
  };

  readonly #onFields = (event: SubmitEvent): void => {
    event.preventDefault();
    const read = (id: string): string => this.renderRoot.querySelector<HTMLInputElement>(`#${id}`)?.value.trim() ?? '';
    const fields = { spindleId: read('spindle'), assemblyId: read('assembly'), speed: read('speed') };
    this.#asking.again();
    this.#take(fields);
  };

  #take(fields: GateFields): void {
    this.fields = fields;
    const speedRpm = Number(fields.speed);
    this.replace({
      page: 'gate',
      ...(fields.spindleId === '' ? {} : { spindleId: fields.spindleId }),
      ...(fields.assemblyId === '' ? {} : { assemblyId: fields.assemblyId }),
      ...(Number.isFinite(speedRpm) && speedRpm > 0 ? { speedRpm } : {}),
    });
  }

  #told() {
    const { state: asking } = this.#asking;
    const ask = askOf(this.fields);
    switch (asking.kind) {
      case 'not-asked':
        return html`<p class="waiting">${ask.kind === 'missing' ? ask.what : nothing}</p>`;
      case 'waiting':
        return asking.slow
          ? html`<p class="word no-data">${mark('no-data', { size: 72 })} <span>${ASK_THE_TOOL_ROOM}</span></p>
              <p class="reason">No answer yet. It is shown here as soon as it comes.</p>`
          : html`<p class="waiting">Asking …</p>`;
      case 'no-answer':
        return html`<p class="word no-data">${mark('no-data', { size: 72 })} <span>${ASK_THE_TOOL_ROOM}</span></p>
          <p class="reason">${asking.why}</p>
          <button @click=${() => this.#asking.again()}>Ask again</button>`;
      case 'answered':
        return this.#answer(asking.answer);
    }
  }

  #answer(answer: GateAnswer) {
    if (answer !== this.#lastAnswer) {
      this.#lastAnswer = answer;
      this.#answeredAt = this.clock.now;
    }
    const standing = GATE_MARKS[answer.word];
    return html`
      <p class="pair">
        ${answer.assemblyId} in
        ${answer.spindleId}${answer.askedSpeedRpm === undefined ? nothing : html`, at ${speed(answer.askedSpeedRpm)}`}
      </p>
      <p class="word ${standing}">${mark(standing, { size: 96 })} <span>${answer.word}</span></p>
      ${
        answer.governingSpeedRpm === undefined
          ? nothing
          : html`<p class="governing">
              not above <strong>${speed(answer.governingSpeedRpm)}</strong>
              ${answer.governedBy === undefined ? nothing : html`<span class="soft">governed by ${GOVERNED_BY_WORDS[answer.governedBy]}</span>`}
            </p>`
      }
      <p class="reason">${answer.why}</p>
      <p class="next">
        <b>Next:</b> ${answer.next}
        ${answer.holdId === undefined ? nothing : html`<a href=${holdAddress(answer.holdId)}>${answer.holdId}</a>`}
      </p>
      <p class="caution">${answer.caution}</p>
      <p class="soft small">
        Answered
        ${this.#answeredAt === undefined ? nothing : clockTime(this.#answeredAt, this.clock.zone)}${this.live ? '; asked anew by itself when something changes' : '; the picture is not live, so ask again before you rely on it'}
      </p>
    `;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'gate-page': GatePage;
  }
}
