// The form that says what of the record is shown: by whom, about what, of which kind, on which days. It changes the address.
import { css, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { say } from '../../shared/language/index.ts';
import { isRecordKind, RECORD_ACTS, RECORD_DECISIONS } from '../../shared/record-kinds.ts';
import { html } from '../language/html.ts';
import { look, presses } from '../look.ts';
import { addressOf, readRoute, type RecordRoute } from '../router.ts';
import { KIND_WORDS } from './line-words.ts';
import { actsLook } from './acts-look.ts';

/** Something else of the record is to be shown. */
export class RecordChosenEvent extends Event {
  readonly route: RecordRoute;

  constructor(route: RecordRoute) {
    super('counterpoise-record-chosen', { bubbles: true, composed: true });
    this.route = route;
  }
}

@customElement('record-filter')
export class RecordFilter extends LitElement {
  static override styles = [
    look,
    presses,
    actsLook,
    css`
      form {
        margin-top: 0.5rem;
      }
    `,
  ];

  @property({ attribute: false }) route: RecordRoute = { page: 'acts' };

  override render() {
    const { by = '', about = '', kind = '', from = '', to = '' } = this.route;
    return html`<form class="which" @submit=${this.#show}>
      <div>
        <label for="by">Who</label>
        <input id="by" name="by" maxlength="200" autocomplete="off" spellcheck="false" .value=${by} />
      </div>
      <div>
        <label for="about">About</label>
        <input
          id="about"
          name="about"
          maxlength="200"
          autocomplete="off"
          spellcheck="false"
          placeholder="an id"
          .value=${about}
        />
      </div>
      <div>
        <label for="kind">What</label>
        <select id="kind" name="kind" .value=${kind}>
          ${this.#option('', say`everything`)} ${this.#option('acts', say`whatever people did`)}
          ${this.#option('decisions', say`whatever the rules decided`)}
          ${[...RECORD_ACTS, ...RECORD_DECISIONS].map((one) => this.#option(one, KIND_WORDS[one]))}
        </select>
      </div>
      <div>
        <label for="from">From the day</label>
        <input id="from" name="from" type="date" .value=${from} />
      </div>
      <div>
        <label for="to">Up to the day</label>
        <input id="to" name="to" type="date" .value=${to} />
      </div>
      <div class="answers">
        <button>Show</button>
        <a class="press" href=${addressOf({ page: 'acts' })}>All of it</a>
      </div>
    </form>`;
  }

  #option(value: string, words: string) {
    return html`<option value=${value} ?selected=${(this.route.kind ?? '') === value}>${words}</option>`;
  }

  readonly #show = (event: SubmitEvent): void => {
    event.preventDefault();
    const query = new URLSearchParams();
    for (const [name, value] of new FormData(event.target as HTMLFormElement))
      if (typeof value === 'string' && value.trim() !== '') query.set(name, value.trim());
    const route = readRoute('/record', query.toString());
    if (route.page === 'acts') this.dispatchEvent(new RecordChosenEvent(route));
  };
}

/** What is shown, in words, for paper and for whoever was sent a link. */
export function chosenWords({ by, about, kind, from, to }: RecordRoute): string {
  const parts = [
    by === undefined ? undefined : say`by ${by}`,
    about === undefined ? undefined : say`concerning ${about}`,
    kind === 'acts' ? say`whatever people did` : kind === 'decisions' ? say`whatever the rules decided` : undefined,
    isRecordKind(kind ?? null) ? KIND_WORDS[kind as keyof typeof KIND_WORDS] : undefined,
    from === undefined ? undefined : say`from ${from} on`,
    to === undefined ? undefined : say`up to ${to}`,
  ].filter((part) => part !== undefined);
  return parts.length === 0 ? say`all of it` : parts.join(', ');
}

declare global {
  interface HTMLElementTagNameMap {
    'record-filter': RecordFilter;
  }
}
