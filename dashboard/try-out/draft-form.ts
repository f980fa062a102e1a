// The rows of a draft in fields: settings by where they count, and other limits; every change is told to the page.
import { LitElement, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { RULE_SETTINGS, SETTING_BOUNDS, TRIED_SETTINGS, type RuleSettingName } from '../../shared/rule-settings.ts';
import { scopeWords, UNTRIED_WORDS } from '../../shared/rule-words.ts';
import type { RulesView } from '../../shared/try-out.ts';
import { look, presses } from '../look.ts';
import {
  LIMIT_SCOPE_KINDS,
  NEW_LIMIT_ROW,
  NEW_SETTING_ROW,
  SCOPE_KINDS,
  type DraftRows,
  type LimitRow,
  type SettingRow,
} from './draft.ts';
import { asTyped } from '../wording/typed-number.ts';
import { tryOutLook } from './try-out-look.ts';

export class DraftChangedEvent extends Event {
  readonly rows: DraftRows;

  constructor(rows: DraftRows) {
    super('counterpoise-draft-changed', { bubbles: true, composed: true });
    this.rows = rows;
  }
}

const SETTING_LABELS: Readonly<Record<RuleSettingName, string>> = {
  persistenceReadings: say`Readings over a limit`,
  persistenceS: say`Spanning at least, s`,
  pauseMaxS: say`Longest pause, s`,
  clearShare: say`Ends below, share of limit`,
  unexplainedLogOdds: say`Unexplained from, ln of odds`,
  verificationReadings: say`Readings that verify`,
};
const SCOPE_LABELS: Readonly<Record<(typeof SCOPE_KINDS)[number], string>> = {
  plant: say`the whole plant`,
  cell: say`a cell`,
  interface: say`an interface`,
  assembly: say`assemblies named`,
  machine: say`a machine`,
  spindle: say`a spindle`,
};

@customElement('draft-form')
export class DraftForm extends LitElement {
  static override styles = [look, presses, tryOutLook];

  @property({ attribute: false }) rows: DraftRows = { settings: [], limits: [] };
  @property({ attribute: false }) defaults: RulesView['defaults'] | undefined;

  override render() {
    const { settings, limits } = this.rows;
    return html`<h3>What a limit asks for before there is a hold</h3>
      ${
        settings.length === 0
          ? html`<p class="soft">Nothing is set: the defaults count everywhere.</p>`
          : settings.map((row, index) => this.#settingRow(row, index))
      }
      <div class="answers">
        <button type="button" @click=${() => this.#tell({ settings: [...settings, NEW_SETTING_ROW] })}>
          Add a row of settings
        </button>
      </div>
      <h3>Other limits</h3>
      ${
        limits.length === 0
          ? html`<p class="soft">The limits that are declared.</p>`
          : limits.map((row, index) => this.#limitRow(row, index))
      }
      <div class="answers">
        <button type="button" @click=${() => this.#tell({ limits: [...limits, NEW_LIMIT_ROW] })}>
          Add other limits
        </button>
      </div>`;
  }

  #settingRow(row: SettingRow, index: number): TemplateResult {
    const id = `s${index}`;
    const set = (change: Partial<SettingRow>): void => this.#setting(index, { ...row, ...change });
    return html`<fieldset class="row" aria-label="Settings, row ${index + 1}">
      ${
        row.kind === undefined
          ? html`<p>${scopeWords(row.scope)}</p>`
          : html`${choice(`${id}k`, say`For`, SCOPE_KINDS, row.kind, SCOPE_LABELS, (kind) => set({ kind }))}
            ${row.kind === 'plant' ? html`` : field(`${id}n`, say`Named (* for any)`, row.name, (name) => set({ name }))}`
      }
      ${RULE_SETTINGS.map((name) =>
        field(
          `${id}${name}`,
          TRIED_SETTINGS.includes(name) ? SETTING_LABELS[name] : say`${SETTING_LABELS[name]} (not tried here)`,
          row.values[name],
          (value) => set({ values: { ...row.values, [name]: value } }),
          { hint: this.#default(name), title: titleOf(name) },
        ),
      )}
      <button type="button" aria-label="Take out row ${index + 1} of the settings" @click=${() => this.#setting(index)}>
        Take out
      </button>
    </fieldset>`;
  }

  #default(name: RuleSettingName): string {
    const value = this.defaults?.[name];
    return value === undefined ? '' : asTyped(value);
  }

  #limitRow(row: LimitRow, index: number): TemplateResult {
    const id = `l${index}`;
    const set = (change: Partial<LimitRow>): void => this.#limit(index, { ...row, ...change });
    return html`<fieldset class="row wide" aria-label="Other limits, row ${index + 1}">
      ${choice(`${id}k`, say`For`, LIMIT_SCOPE_KINDS, row.kind, SCOPE_LABELS, (kind) => set({ kind }))}
      ${row.kind === 'plant' ? html`` : field(`${id}n`, say`Named (* for any)`, row.name, (name) => set({ name }))}
      ${choice(`${id}q`, say`Limit of`, ['overall', 'synchronous'], row.quantity, QUANTITY_LABELS, (quantity) => set({ quantity }))}
      ${choice(`${id}h`, say`Becomes`, ['times', 'limitMmS'], row.how, HOW_LABELS, (how) => set({ how }))}
      ${field(`${id}v`, row.how === 'times' ? say`Times` : say`mm/s RMS`, row.value, (value) => set({ value }))}
      ${field(`${id}s`, say`Who says so`, row.source, (source) => set({ source }), { hint: say`needed to put it in force` })}
      <button type="button" aria-label="Take out row ${index + 1} of the limits" @click=${() => this.#limit(index)}>
        Take out
      </button>
    </fieldset>`;
  }

  #setting(index: number, row?: SettingRow): void {
    this.#tell({ settings: this.rows.settings.toSpliced(index, 1, ...(row === undefined ? [] : [row])) });
  }

  #limit(index: number, row?: LimitRow): void {
    this.#tell({ limits: this.rows.limits.toSpliced(index, 1, ...(row === undefined ? [] : [row])) });
  }

  #tell(change: Partial<DraftRows>): void {
    this.dispatchEvent(new DraftChangedEvent({ ...this.rows, ...change }));
  }
}

const titleOf = (name: RuleSettingName): string =>
  TRIED_SETTINGS.includes(name) ? SETTING_BOUNDS[name].words : `${SETTING_BOUNDS[name].words}. ${UNTRIED_WORDS}`;

const QUANTITY_LABELS = { overall: say`overall velocity`, synchronous: say`1× velocity` } as const;
const HOW_LABELS = { times: say`times what is declared`, limitMmS: say`one value at all speeds` } as const;

function field(
  id: string,
  label: string,
  value: string,
  changed: (value: string) => void,
  { hint = '', title = '' }: { readonly hint?: string; readonly title?: string } = {},
): TemplateResult {
  return html`<div>
    <label for=${id} title=${title}>${label}</label>
    <input
      id=${id}
      autocomplete="off"
      .value=${value}
      placeholder=${hint}
      @change=${(event: Event) => changed((event.target as HTMLInputElement).value)}
    />
  </div>`;
}

function choice<K extends string>(
  id: string,
  label: string,
  keys: readonly K[],
  chosen: K,
  words: Readonly<Record<K, string>>,
  changed: (key: K) => void,
): TemplateResult {
  return html`<div>
    <label for=${id}>${label}</label>
    <select
      id=${id}
      @change=${(event: Event) => {
        const key = keys.find((one) => one === (event.target as HTMLSelectElement).value);
        if (key !== undefined) changed(key);
      }}
    >
      ${keys.map((key) => html`<option value=${key} ?selected=${key === chosen}>${words[key]}</option>`)}
    </select>
  </div>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'draft-form': DraftForm;
  }
}
