// Who signed in, and what was done with people and devices: the access log, for administrators.
import { LitElement } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { say } from '../../shared/language/index.ts';
import { whyNot, type Api } from '../api.ts';
import { html } from '../language/html.ts';
import { look, tables } from '../look.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { fetchAccessLog, type AccessLine } from './record-api.ts';

const LINES_SHOWN = 200;

@customElement('access-lines')
export class AccessLines extends LitElement {
  static override styles = [look, tables];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) clock: PlantClock = { zone: 'UTC', now: 0 };
  @state() private lines: readonly AccessLine[] | undefined;
  @state() private wrong: string | undefined;

  override render() {
    return html`<section aria-labelledby="access">
      <h2 id="access">Sign-ins, people and devices</h2>
      <details @toggle=${this.#opened}>
        <summary>The last ${LINES_SHOWN} lines of the access log, for administrators</summary>
        ${this.wrong === undefined ? this.#table() : html`<p role="alert">${this.wrong}</p>`}
      </details>
    </section>`;
  }

  #table() {
    if (this.lines === undefined) return html`<p class="soft" role="status">Fetching ${say`the access log`} …</p>`;
    return html`<div class="scrolls" tabindex="0">
      <table>
        <caption>
          Newest first; it is no part of the chain.
        </caption>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">Who</th>
            <th scope="col">What</th>
            <th scope="col">About</th>
            <th scope="col">From the address</th>
          </tr>
        </thead>
        <tbody>
          ${this.lines.map(
            ({ at, who, what, subject, from }) =>
              html`<tr>
                <td class="nowrap">${moment(at, this.clock)}</td>
                <td>${who}</td>
                <td>${WHAT_WORDS[what] ?? what}</td>
                <td>${subject}</td>
                <td class="fixed">${from}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>`;
  }

  readonly #opened = (event: Event): void => {
    if ((event.target as HTMLDetailsElement).open) void this.#fetch();
  };

  async #fetch(): Promise<void> {
    const answer = await fetchAccessLog(this.api, LINES_SHOWN);
    this.wrong = answer.kind === 'answer' ? undefined : whyNot(answer);
    if (answer.kind === 'answer') this.lines = answer.value;
  }
}

/** By the names of the access log. */
const WHAT_WORDS: Readonly<Record<string, string>> = {
  'signed-in': say`signed in`,
  'signed-out': say`signed out`,
  'sign-in-refused': say`sign-in refused`,
  'sessions-ended': say`sessions ended`,
  'password-changed': say`password changed`,
  'first-sign-in-offered': say`first sign-in offered`,
  'user-invited': say`person invited`,
  'user-joined': say`person joined`,
  'user-changed': say`person changed`,
  'device-enrolled': say`device enrolled`,
  'device-rotated': say`device’s secret renewed`,
  'device-revoked': say`device revoked`,
  denied: say`refused for want of a role`,
};

declare global {
  interface HTMLElementTagNameMap {
    'access-lines': AccessLines;
  }
}
