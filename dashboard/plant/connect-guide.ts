// Connecting a device: it is enrolled here, its first messages are sent by commands to paste, and its first word is told when it has come.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { Connecting } from '../../shared/connecting.ts';
import type { DeviceKind } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import type { DeviceLane } from '../../shared/views.ts';
import { whyNot, type Api } from '../api.ts';
import { mark, markLook } from '../drawing/standing-mark.ts';
import type { Picture } from '../feed-fold.ts';
import { html } from '../language/html.ts';
import { look, presses } from '../look.ts';
import { addressOf } from '../router.ts';
import { complaint } from '../statement-form.ts';
import { clockTime } from '../wording/instants.ts';
import './copy-text.ts';
import { stepsOf, whereOf, type Where } from './device-commands.ts';
import { enrolDevice, type DeviceWithSecret } from './plant-asks.ts';
import { KIND_TOLD } from './plant-words.ts';

/** Devices or people of this plant are others now. */
export class BelongingEvent extends Event {
  constructor() {
    super('counterpoise-belonging', { bubbles: true, composed: true });
  }
}

const KINDS = ['sensor', 'machine', 'bench', 'reader'] as const satisfies readonly DeviceKind[];
const ID = '[A-Za-z0-9\\-]{1,40}';
const IDS = `${ID}(\\s*,\\s*${ID})*`;

@customElement('connect-guide')
export class ConnectGuide extends LitElement {
  static override styles = [
    look,
    presses,
    markLook,
    css`
      form {
        display: flex;
        flex-wrap: wrap;
        gap: 0.75rem;
        align-items: end;
        margin: 0.5rem 0;
      }
      form > div {
        flex: 0 1 16rem;
      }
      form > .choices {
        flex-basis: 100%;
      }
      ol {
        padding-left: 1.25rem;
      }
      li {
        margin-bottom: 0.5rem;
      }
      .heard {
        display: flex;
        gap: 0.5rem;
        align-items: baseline;
        border-left: 3px solid var(--ink);
        padding: 0.5rem 0 0.5rem 1rem;
        min-height: var(--target);
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) picture: Picture | undefined;
  @property({ attribute: false }) connecting: Connecting | undefined;
  @state() private kind: DeviceKind = 'sensor';
  @state() private name = '';
  @state() private serves = '';
  @state() private made: DeviceWithSecret | undefined;
  @state() private wrong: string | undefined;
  @state() private sending = false;
  /** How many of its messages were there when its secret was made, and when the first one after that was heard. */
  #before = { messages: 0, rejected: 0 };
  #heardAt: number | undefined;

  override willUpdate(): void {
    const lane = this.#lane;
    if (lane === undefined || this.#heardAt !== undefined || lane.messages <= this.#before.messages) return;
    this.#heardAt = lane.lastAt ?? this.picture?.now;
  }

  get #lane(): DeviceLane | undefined {
    const { made } = this;
    return made === undefined ? undefined : this.#laneOf(made.device);
  }

  #laneOf(device: string): DeviceLane | undefined {
    return this.picture?.intake.devices.find((lane) => lane.device === device);
  }

  override render() {
    return this.made === undefined ? this.#form() : this.#steps(this.made);
  }

  #form() {
    return html`<form @submit=${(event: SubmitEvent) => void this.#enrol(event)}>
        <div class="choices" role="group" aria-label="Kind of device">
          ${KINDS.map(
            (kind) =>
              html`<button type="button" aria-pressed=${String(kind === this.kind)} @click=${() => (this.kind = kind)}>
                ${KIND_TOLD[kind].word}
              </button>`,
          )}
        </div>
        <div>
          <label for="name">Its name</label>
          <input
            id="name"
            required
            pattern=${ID}
            maxlength="40"
            placeholder=${KIND_TOLD[this.kind].example}
            autocomplete="off"
            .value=${this.name}
            @input=${(event: Event) => (this.name = (event.target as HTMLInputElement).value)}
          />
        </div>
        ${
          this.#servesSome
            ? html`<div>
                <label for="serves"
                  >${this.kind === 'sensor' ? say`The spindle it sits on` : say`The spindles it answers for`}</label
                >
                <input
                  id="serves"
                  required
                  pattern=${this.kind === 'sensor' ? ID : IDS}
                  placeholder=${this.kind === 'sensor' ? 'S-07' : 'S-07, S-08'}
                  autocomplete="off"
                  .value=${this.serves}
                  @input=${(event: Event) => (this.serves = (event.target as HTMLInputElement).value)}
                />
              </div>`
            : nothing
        }
        <button class="first" ?disabled=${this.sending}>Enrol, and make its secret</button>
      </form>
      <p class="soft small">${KIND_TOLD[this.kind].does} Names have letters, digits and hyphens only.</p>
      ${complaint(this.wrong)}`;
  }

  get #servesSome(): boolean {
    return this.kind === 'sensor' || this.kind === 'machine';
  }

  #steps(made: DeviceWithSecret) {
    const { connecting, picture } = this;
    const where = connecting === undefined ? undefined : whereOf(connecting, picture?.plant ?? '', location.hostname);
    return html`<p>
        <b>The secret of ${made.device}, shown this once.</b> Keep it where the device keeps it; a lost one is replaced
        by a new one.
      </p>
      <copy-text .text=${made.secret} data-what=${say`the secret of ${made.device}`}></copy-text>
      ${where === undefined ? this.#elsewhere() : this.#commands(made, where)} ${this.#heard(made)}
      <p><button type="button" @click=${this.#another}>Done; connect another one</button></p>`;
  }

  #elsewhere() {
    return html`<p>
      Devices of this plant talk to an external broker: that broker has to know the device, and its address and
      credentials are its own. Topics and messages are the same.
    </p>`;
  }

  #commands(made: DeviceWithSecret, where: Where) {
    const { broker, ownAuthority } = where;
    const trusted = broker.tls && ownAuthority;
    return html`<ol>
      <li>
        <p>
          In a shell of a computer that reaches ${broker.host}, port ${broker.port}, with the clients of mosquitto
          (Debian: the package mosquitto-clients).
          ${isLoopback(broker.host) ? say`The service listens on its own computer only; to reach it from others, see its settings.` : nothing}
        </p>
      </li>
      ${
        trusted
          ? html`<li>
              <p>Keep <a href="/certificate" download>what signed the certificate</a> in the folder of the shell.</p>
            </li>`
          : nothing
      }
      ${stepsOf(made, where).map(
        ({ words, command }, place) =>
          html`<li>
            <p>${words}</p>
            <copy-text .text=${command} data-what=${say`command ${place + 1}`}></copy-text>
          </li>`,
      )}
    </ol>`;
  }

  #heard(made: DeviceWithSecret) {
    const at = this.#heardAt;
    const rejected = (this.#lane?.rejected ?? 0) > this.#before.rejected;
    if (rejected)
      return html`<p class="heard" role="status">
        ${mark('watch')}<span
          >Something of ${made.device} has come that could not be read:
          <a href=${addressOf({ page: 'intake' })}>Intake</a> says why.</span
        >
      </p>`;
    if (made.kind === 'reader')
      return html`<p class="heard" role="status">
        ${mark('in-family')}<span>A reader sends nothing of its own; it listens.</span>
      </p>`;
    if (at === undefined)
      return html`<p class="heard" role="status">
        ${mark('no-data')}<span>Nothing of ${made.device} has been heard yet. This line changes by itself.</span>
      </p>`;
    const when = clockTime(at, this.picture?.zone ?? 'UTC');
    return html`<p class="heard" role="status">
      ${mark('in-family')}<span>The first message of ${made.device} has arrived, ${when}.</span>
    </p>`;
  }

  async #enrol(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    if (this.sending) return;
    this.sending = true;
    const serves = this.#servesSome
      ? this.serves.split(',').map((id) => id.trim())
      : this.kind === 'reader'
        ? ['*']
        : [];
    const answer = await enrolDevice(this.api, { device: this.name.trim(), kind: this.kind, serves });
    this.sending = false;
    if (answer.kind !== 'answer') {
      this.wrong = whyNot(answer);
      return;
    }
    this.wrong = undefined;
    this.show(answer.value);
    this.dispatchEvent(new BelongingEvent());
  }

  /** A secret just made, of a device that is new or known. */
  show(made: DeviceWithSecret): void {
    const { messages = 0, rejected = 0 } = this.#laneOf(made.device) ?? {};
    this.#before = { messages, rejected };
    this.#heardAt = undefined;
    this.made = made;
  }

  readonly #another = (): void => {
    this.made = undefined;
    this.name = '';
    this.serves = '';
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('#name')?.focus());
  };
}

const isLoopback = (host: string): boolean => host === 'localhost' || host === '::1' || host.startsWith('127.');

declare global {
  interface HTMLElementTagNameMap {
    'connect-guide': ConnectGuide;
  }
}
