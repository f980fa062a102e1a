// Gate: may this assembly run in this spindle at this speed? One word, the governing speed, one reason, one next step.
import { nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { GateAnswer } from '../../shared/gate.ts';
import { MAY_ASK_GATE } from '../../shared/rights.ts';
import type { Answer, GateAsked } from '../api.ts';
import { assemblyAsWritten } from '../assembly/as-written.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import { look, presses } from '../look.ts';
import { Page } from '../page.ts';
import { holdAddress, type Route } from '../router.ts';
import { spindleNamed } from '../shell/find.ts';
import { speed } from '../wording/figures.ts';
import { ASK_THE_TOOL_ROOM, GATE_MARKS, GATE_SAID, GOVERNED_BY_WORDS } from '../wording/gate-words.ts';
import { ROLE_WORDS } from '../wording/hold-words.ts';
import { clockTime } from '../wording/instants.ts';
import { GateAsking } from './gate-asking.ts';
import { gateLook } from './gate-look.ts';
import { mayAskGate } from './may-ask.ts';
import { heldBy, scanned, type Scanned } from './gate-scan.ts';
import { fasterProgram, programmedFor, speedLeftEmpty } from './gate-speed.ts';
import { askOf, groundsOf, type GateFields } from './gate-question.ts';

@customElement('gate-page')
export class GatePage extends Page {
  static override styles = [look, presses, markLook, gateLook];

  @property({ attribute: false }) replace!: (route: Route) => void;
  @state() private fields: GateFields = { spindleId: '', assemblyId: '', speed: '' };
  /** What was scanned last, while there is something to say of it. */
  @state() private scan: Scanned = { kind: 'nothing' };
  readonly #asking = new GateAsking(this, (asked) => this.#ask(asked));
  #answeredAt: number | undefined;
  #lastAnswer: GateAnswer | undefined;

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('route') && this.route.page === 'gate') {
      const { spindleId = '', assemblyId = '', speed: typed = '' } = this.route;
      this.fields = { spindleId, assemblyId, speed: typed };
    }
    if (changed.has('live') && this.picture !== undefined) this.#onLive();
    // The picture may come after the address: a spindle typed in another case is then known for what it is.
    const spindleId = spindleNamed(this.fields.spindleId, this.picture);
    if (spindleId !== undefined) this.fields = { ...this.fields, spindleId };
    if (!mayAskGate(this.person)) return;
    const ask = askOf(this.fields);
    if (ask.kind === 'missing') this.#asking.want(undefined, `missing ${ask.what}`);
    else {
      const { spindleId, assemblyId, speedRpm } = ask;
      const asked = { spindleId, assemblyId, ...(speedRpm === undefined ? {} : { speedRpm }) };
      this.#asking.want(asked, `${spindleId} ${assemblyId} ${speedRpm ?? ''} ${groundsOf(ask, this.picture)}`);
    }
  }

  #onLive(): void {
    if (this.live) this.#asking.back();
    else
      this.#asking.lose(
        say`There is no connection since ${clockTime(this.clock.now, this.clock.zone)}: what the gate said before may hold no longer.`,
      );
  }

  /** An assembly that nobody knows may only be typed in another case: the gate is then asked about the one that is meant. */
  async #ask(asked: GateAsked): Promise<Answer<GateAnswer>> {
    const answer = await this.api.gate(asked);
    if (answer.kind !== 'answer' || answer.value.reason !== 'unknown-assembly') return answer;
    const assemblyId = await assemblyAsWritten(this.api, asked.assemblyId);
    if (assemblyId === undefined || assemblyId === asked.assemblyId) return answer;
    if (this.fields.assemblyId === asked.assemblyId) this.#take({ ...this.fields, assemblyId });
    return this.api.gate({ ...asked, assemblyId });
  }

  override firstUpdated(): void {
    this.renderRoot.querySelector<HTMLElement>('#scan')?.focus({ preventScroll: true });
  }

  override render() {
    return html`<div class="head">
        <h1>Gate</h1>
        <p class="question">May this assembly run in this spindle at this speed?</p>
      </div>
      ${mayAskGate(this.person) ? this.#gate() : this.#notAllowed()}`;
  }

  #notAllowed() {
    return html`<p role="alert">
      You are signed in, but without the right to ask the gate. It takes one of the roles
      ${MAY_ASK_GATE.map((role) => ROLE_WORDS[role]).join(', ')}.
    </p>`;
  }

  #gate() {
    return html`<div class="gate">
      <div class="ask">${this.#scan()} ${this.#fields()} ${this.#ofScan()}</div>
      <div class="answer" role="status" aria-live="assertive">${this.#told()}</div>
    </div>`;
  }

  #scan() {
    return html`<form class="scanned" @submit=${this.#onScan}>
      <label for="scan">Scan, or type an id</label>
      <input id="scan" class="scan" type="text" autocomplete="off" autocapitalize="off" spellcheck="false" />
      <button type="submit">Take it</button>
    </form>`;
  }

  #fields() {
    const { spindleId, assemblyId, speed: typed } = this.fields;
    const programmed = programmedFor(this.fields, this.picture);
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
        <label for="speed"
          >Speed,
          rpm${programmed === undefined ? nothing : html`<span class="soft">, programmed ${speed(programmed)}</span>`}</label
        >
        <input
          id="speed"
          name="speed"
          inputmode="numeric"
          .value=${typed}
          autocomplete="off"
          placeholder=${speedLeftEmpty(this.fields, this.picture)}
        />
      </div>
      <button class="first" type="submit">Ask</button>
      <button type="button" @click=${this.#onNext}>Next assembly</button>
    </form>`;
  }

  /** Beneath the fields, where it moves none of them. */
  #ofScan() {
    return html`<div class="of-scan" role="status">${this.#scanWords()}</div>`;
  }

  #scanWords() {
    const { scan } = this;
    if (scan.kind === 'no-use')
      return html`<p>“${scan.text}” is the address of no spindle, assembly or hold. Nothing was filled in.</p>`;
    if (scan.kind !== 'tag') return nothing;
    const { holdId } = scan;
    const held = heldBy(holdId, this.picture);
    return html`<p>
        ${held === undefined ? say`That is the tag of hold ${holdId}, which is not among the open holds.` : say`That is the tag of hold ${holdId}: it holds ${held.id}.`}
      </p>
      <a class="press" href=${holdAddress(holdId)}>Open hold ${holdId}</a>`;
  }

  readonly #onScan = (event: SubmitEvent): void => {
    event.preventDefault();
    const field = this.renderRoot.querySelector<HTMLInputElement>('#scan');
    if (field === null) return;
    this.scan = scanned(field.value, this.picture);
    if ('filled' in this.scan) this.#take({ ...this.fields, ...this.scan.filled });
    field.value = '';
    field.focus();
  };

  readonly #onFields = (event: SubmitEvent): void => {
    event.preventDefault();
    const read = (id: string): string => this.renderRoot.querySelector<HTMLInputElement>(`#${id}`)?.value.trim() ?? '';
    const fields = { spindleId: read('spindle'), assemblyId: read('assembly'), speed: read('speed') };
    this.#asking.again();
    this.scan = { kind: 'nothing' };
    this.#take(fields);
  };

  readonly #onNext = (): void => {
    this.scan = { kind: 'nothing' };
    this.#take({ spindleId: this.fields.spindleId, assemblyId: '', speed: '' });
  };

  #take(fields: GateFields): void {
    this.fields = fields;
    this.replace({
      page: 'gate',
      ...(fields.spindleId === '' ? {} : { spindleId: fields.spindleId }),
      ...(fields.assemblyId === '' ? {} : { assemblyId: fields.assemblyId }),
      ...(fields.speed === '' ? {} : { speed: fields.speed }),
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
      <p class="word ${standing}">${mark(standing, { size: 96 })} <span>${GATE_SAID[answer.word]}</span></p>
      ${this.#fasterProgram(answer)} ${answer.word === 'NO OBJECTION' ? governing(answer) : nothing}
      <p class="reason">${retell(answer.why)}</p>
      <p class="next">
        <b>Next:</b> ${retell(answer.next)}
        ${answer.holdId === undefined ? nothing : html`<a href=${holdAddress(answer.holdId)}>${answer.holdId}</a>`}
      </p>
      ${answer.word === 'NO OBJECTION' ? nothing : lowestLimit(answer)}
      <p class="caution">${retell(answer.caution)}</p>
      <p class="soft small">
        Answered
        ${this.#answeredAt === undefined ? nothing : clockTime(this.#answeredAt, this.clock.zone)}${this.live ? say`; asked anew by itself when something changes` : say`; the picture is not live, so ask again before you rely on it`}
      </p>
    `;
  }

  /** The answer is about its service speed, and the spindle would not turn at that. */
  #fasterProgram(answer: GateAnswer) {
    const faster = fasterProgram(this.fields, answer, this.picture);
    if (faster === undefined) return nothing;
    return html`<p class="faster">
        The program of ${answer.spindleId} now runs at ${speed(faster)}, faster than what this answer is about.
      </p>
      <button @click=${() => this.#take({ ...this.fields, speed: String(faster) })}>Ask at ${speed(faster)}</button>`;
  }
}

function governing({ governingSpeedRpm, governedBy }: GateAnswer) {
  if (governingSpeedRpm === undefined) return nothing;
  return html`<p class="governing">
    not above <strong>${speed(governingSpeedRpm)}</strong>
    ${governedBy === undefined ? nothing : html`<span class="soft">governed by ${GOVERNED_BY_WORDS[governedBy]}</span>`}
  </p>`;
}

/** Beside a word that holds back a large speed would read as leave to go slower: it is told small, as the limit that it is. */
function lowestLimit({ governingSpeedRpm, governedBy }: GateAnswer) {
  if (governingSpeedRpm === undefined) return nothing;
  const by = governedBy === undefined ? '' : `: ${GOVERNED_BY_WORDS[governedBy]}`;
  return html`<p class="small">The lowest limit known is ${speed(governingSpeedRpm)}${by}.</p>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'gate-page': GatePage;
  }
}
