// Other limits and settings tried on history before they apply: the draft, what it changes, what it would have held, and in force.
import { nothing, type TemplateResult } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import { limitTryWords } from '../../shared/limit-tries.ts';
import { MAY_DECLARE_RULES } from '../../shared/rights.ts';
import { ruleChanges, ruleSetYaml, UNTRIED_WORDS } from '../../shared/rule-words.ts';
import type { RuleSet } from '../../shared/rule-settings.ts';
import type { DraftInForce, RulesView, TryOutAnswer } from '../../shared/try-out.ts';
import { whyNot } from '../api.ts';
import { numberOf, TRY_OUT_DAYS } from '../choices.ts';
import { daysChoice } from '../days-choice.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import './days-picture.ts';
import { limitTriesOf, rowsOf, ruleSetOf, setsUntried, type DraftRows } from './draft.ts';
import { DraftChangedEvent } from './draft-form.ts';
import './holds-table.ts';
import './put-in-force.ts';
import { tryOutLook } from './try-out-look.ts';
import { TryOutRun } from './try-out-run.ts';
import { cameTo, HOLDS_LESS_WORDS, lookedThrough, textFaultWords } from './try-out-words.ts';
import { forcedLines, versionsTable } from './versions-table.ts';

const DAYS_AT_FIRST = 90;
const UNNAMED = say`draft`;

@customElement('try-out-page')
export class TryOutPage extends Page {
  static override styles = [look, tables, presses, tryOutLook];

  @state() private rows: DraftRows | undefined;
  @state() private named: Omit<RuleSet, 'rows'> | undefined;
  @state() private setName = UNNAMED;
  /** What was put in force last, in words. */
  @state() private forced: readonly TemplateResult[] = [];
  @state() private text: string | undefined;
  @state() private textFaults: readonly string[] = [];
  readonly #rules = new PageData<RulesView>(this, () => this.api.rules());
  readonly #run = new TryOutRun(this);

  override willUpdate(): void {
    this.#rules.want('rules');
  }

  override render() {
    return html`<h1>Try-out</h1>
      <p class="question not-printed">What would other limits have done?</p>
      ${
        this.person !== undefined && !this.hasRole(MAY_DECLARE_RULES)
          ? html`<p role="alert">
              You are signed in, but limits are tried out by whoever answers for them: an engineer.
            </p>`
          : (insteadOf(this.#rules.state, { what: say`the rule sets`, absent: html`` }) ?? this.#body())
      }`;
  }

  get #days(): number {
    return numberOf(this.choices['days']) ?? DAYS_AT_FIRST;
  }

  get #sets(): RulesView['sets'] {
    return this.#rules.value?.sets ?? [];
  }

  get #inForce(): RuleSet | undefined {
    return this.#sets.at(-1)?.rules;
  }

  get #rowsNow(): DraftRows {
    return this.rows ?? { settings: rowsOf(this.#inForce), limits: [] };
  }

  /** A number that no set had yet, unless the draft is a set as it was. */
  get #head(): Omit<RuleSet, 'rows'> {
    const free = Math.max(0, ...this.#sets.map(({ rules }) => rules.version)) + 1;
    return this.named ?? { version: free, name: this.setName, note: '', author: this.person?.name ?? say`nobody` };
  }

  #body(): TemplateResult {
    return html`<section aria-labelledby="draft">
        <h2 id="draft">The draft</h2>
        <draft-form
          class="not-printed"
          .rows=${this.#rowsNow}
          .defaults=${this.#rules.value?.defaults}
          @counterpoise-draft-changed=${this.#onDraft}
        ></draft-form>
        ${this.#nameField()} ${this.#asText()} ${this.#changes()} ${this.#asking()}
      </section>
      ${this.#result()}
      <section aria-labelledby="force">
        <h2 id="force">In force</h2>
        <put-in-force
          class="not-printed"
          .api=${this.api}
          .draft=${this.#forForce()}
          @counterpoise-in-force=${this.#onInForce}
        ></put-in-force>
        ${forcedLines(this.forced)} ${versionsTable(this.#sets, this.clock, (rules) => this.#take(rules))}
      </section>`;
  }

  readonly #onDraft = (event: Event): void => {
    if (!(event instanceof DraftChangedEvent)) return;
    this.forced = [];
    this.#draft(event.rows, undefined);
  };

  readonly #onInForce = (): void => {
    this.forced = this.#changeLines();
    this.#draft(undefined, undefined);
    void this.#rules.again();
  };

  #draft(rows: DraftRows | undefined, named: Omit<RuleSet, 'rows'> | undefined): void {
    this.rows = rows;
    this.named = named;
    this.text = undefined;
  }

  /** A set as it was keeps its number: put in force again it is the same set. */
  #take(rules: RuleSet): void {
    this.#draft({ settings: rowsOf(rules), limits: [] }, rules);
    this.renderRoot.querySelector('h2')?.scrollIntoView();
  }

  #drafted(): { readonly rules: RuleSet | undefined } | string {
    const made = ruleSetOf(this.#rowsNow.settings, this.#head);
    if (made.kind === 'wrong') return made.words;
    const { adds, removes } = ruleChanges(this.#inForce, made.value);
    return { rules: adds.length + removes.length === 0 ? undefined : made.value };
  }

  #nameField(): TemplateResult {
    return html`<div class="name not-printed">
      <label for="name">Name of the set</label>
      <input
        id="name"
        maxlength="80"
        autocomplete="off"
        .value=${this.#head.name}
        @change=${(event: Event) => {
          this.setName = (event.target as HTMLInputElement).value.trim() || UNNAMED;
          this.named = undefined;
        }}
      />
    </div>`;
  }

  #asText(): TemplateResult {
    const drafted = this.#drafted();
    const written =
      typeof drafted === 'string' ? '' : ruleSetYaml(drafted.rules ?? this.#inForce ?? { ...this.#head, rows: [] });
    return html`<details class="not-printed">
      <summary>The settings as text (YAML)</summary>
      <label for="yaml">Rule set</label>
      <textarea
        id="yaml"
        spellcheck="false"
        .value=${this.text ?? written}
        @input=${(event: InputEvent) => (this.text = (event.target as HTMLTextAreaElement).value)}
      ></textarea>
      ${
        this.textFaults.length === 0
          ? nothing
          : html`<ul class="changes" role="alert">
              ${this.textFaults.map((fault) => html`<li>${fault}</li>`)}
            </ul>`
      }
      <div class="answers">
        <button type="button" ?disabled=${this.text === undefined} @click=${() => void this.#read()}>
          Take the text over
        </button>
      </div>
    </details>`;
  }

  async #read(): Promise<void> {
    const answer = await this.api.readRules(this.text ?? '');
    if (answer.kind !== 'answer') {
      this.textFaults = [whyNot(answer)];
      return;
    }
    const { faults, rules } = answer.value;
    this.textFaults = faults.map(textFaultWords);
    if (rules === undefined) return;
    this.#draft({ settings: rowsOf(rules), limits: this.#rowsNow.limits }, rules);
  }

  #changes(): TemplateResult {
    const drafted = this.#drafted();
    const limits = limitTriesOf(this.#rowsNow.limits, false);
    const wrong = typeof drafted === 'string' ? drafted : limits.kind === 'wrong' ? limits.words : undefined;
    if (wrong !== undefined) return html`<p role="alert"><b>${wrong}</b></p>`;
    const lines = this.#changeLines();
    return html`<h3>What it changes</h3>
      ${
        lines.length === 0
          ? html`<p class="soft">Nothing: it is what is in force.</p>`
          : html`<ul class="changes">
              ${lines}
            </ul>`
      }
      ${setsUntried(this.#rowsNow.settings) ? html`<p>${UNTRIED_WORDS}</p>` : nothing}`;
  }

  #changeLines(): readonly TemplateResult[] {
    const drafted = this.#drafted();
    const limits = limitTriesOf(this.#rowsNow.limits, false);
    const { adds, removes } =
      typeof drafted === 'string' || drafted.rules === undefined
        ? { adds: [], removes: [] }
        : ruleChanges(this.#inForce, drafted.rules);
    return [
      ...removes.map((words) => html`<li><b>no longer</b> ${words}</li>`),
      ...adds.map((words) => html`<li><b>new</b> ${words}</li>`),
      ...(limits.kind === 'good' ? limits.value.map((one) => html`<li><b>new</b> ${limitTryWords(one)}</li>`) : []),
    ];
  }

  #asking(): TemplateResult {
    return html`<div class="answers not-printed">
      ${daysChoice(say`How far back`, {
        offered: TRY_OUT_DAYS,
        chosen: this.#days,
        choose: (days) => this.choose({ days: days === DAYS_AT_FIRST ? undefined : String(days) }),
      })}
      <button class="first" ?disabled=${this.#run.isRunning} @click=${() => void this.#begin()}>
        Try it on the last ${this.#days} days
      </button>
    </div>`;
  }

  async #begin(): Promise<void> {
    const drafted = this.#drafted();
    const limits = limitTriesOf(this.#rowsNow.limits, false);
    if (typeof drafted === 'string' || limits.kind === 'wrong') return;
    const { rules } = drafted;
    await this.#run.begin({
      days: this.#days,
      limits: [...limits.value],
      ...(rules === undefined ? {} : { rules: rules as NonNullable<DraftInForce['rules']> }),
    });
  }

  #forForce(): Omit<DraftInForce, 'why'> | string {
    const drafted = this.#drafted();
    const limits = limitTriesOf(this.#rowsNow.limits, true);
    if (typeof drafted === 'string') return drafted;
    if (limits.kind === 'wrong') return limits.words;
    const { rules } = drafted;
    if (rules === undefined && limits.value.length === 0) return say`The draft is what is in force.`;
    const limitsNow = this.#rules.value?.limitsNow;
    return {
      limits: [...limits.value],
      ...(limitsNow === undefined ? {} : { limitsNow }),
      ...(rules === undefined ? {} : { rules: rules as NonNullable<DraftInForce['rules']> }),
    };
  }

  #result(): TemplateResult | typeof nothing {
    const run = this.#run.state;
    if (run.kind === 'nothing') return nothing;
    if (run.kind === 'refused') return html`<p role="alert">${run.why}</p>`;
    const { view } = run;
    return html`<section class="long" aria-labelledby="result">
      <h2 id="result">What it would have done</h2>
      <div role="status">
        ${
          view.state === 'running'
            ? html`<label for="far">Going through the readings, ${view.percent} %</label>
                <progress id="far" max="100" value=${view.percent}></progress>`
            : nothing
        }
        ${view.state === 'cancelled' ? html`<p>Given up before it was done.</p>` : nothing}
        ${view.state === 'failed' ? html`<p>It failed: ${retell(view.why ?? '')}</p>` : nothing}
        ${view.answer === undefined ? nothing : html`<p><b>${cameTo(view.answer)}</b></p>`}
      </div>
      ${view.state === 'running' ? html`<p><button @click=${() => void this.#run.cancel()}>Give up</button></p>` : nothing}
      ${view.answer === undefined ? nothing : this.#answer(view.answer)}
    </section>`;
  }

  #answer(answer: TryOutAnswer): TemplateResult {
    return html`<p class="soft">${lookedThrough(answer, this.clock.zone)}</p>
      <p>${HOLDS_LESS_WORDS}</p>
      <days-picture .answer=${answer} .zone=${this.clock.zone}></days-picture>
      <tried-holds-table .api=${this.api} .answer=${answer} .clock=${this.clock}></tried-holds-table>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'try-out-page': TryOutPage;
  }
}
