// Devices with their credentials: a new secret or an end of one, each said again in another place before it is done.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { say } from '../../shared/language/index.ts';
import { whyNot, type Answer, type Api } from '../api.ts';
import type { Picture } from '../feed-fold.ts';
import { KIND_WORDS } from '../intake/lane-order.ts';
import { html } from '../language/html.ts';
import { look, presses, tables } from '../look.ts';
import { openedForm } from '../opened-form.ts';
import { complaint } from '../statement-form.ts';
import { MISSING } from '../wording/figures.ts';
import { age, moment } from '../wording/instants.ts';
import { BelongingEvent } from './connect-guide.ts';
import './copy-text.ts';
import { newSecret, revokeDevice, type DeviceShown, type DeviceWithSecret } from './plant-asks.ts';

interface Chosen {
  readonly act: 'new-secret' | 'revoke';
  readonly device: string;
}

@customElement('plant-devices')
export class PlantDevices extends LitElement {
  static override styles = [
    look,
    presses,
    tables,
    openedForm,
    css`
      td.acts {
        white-space: nowrap;
      }
      form {
        margin: 0.75rem 0;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) picture: Picture | undefined;
  @property({ attribute: false }) devices: readonly DeviceShown[] = [];
  @state() private chosen: Chosen | undefined;
  @state() private made: DeviceWithSecret | undefined;
  @state() private wrong: string | undefined;
  @state() private done = '';
  @state() private sending = false;

  override render() {
    if (this.devices.length === 0) return html`<p>No device is enrolled.</p>`;
    return html`<div class="scrolls" tabindex="0" role="group" aria-label="Devices">
        <table>
          <thead>
            <tr>
              <th scope="col">Device</th>
              <th scope="col">Kind</th>
              <th scope="col">Serves</th>
              <th scope="col">Last heard</th>
              <th scope="col">Secrets in force</th>
              <th scope="col">Enrolled</th>
              <th scope="col" class="not-printed"><span class="only-heard">Acts</span></th>
            </tr>
          </thead>
          <tbody>
            ${this.devices.map((device) => this.#row(device))}
          </tbody>
        </table>
      </div>
      ${this.#asked()}
      ${
        this.made === undefined
          ? nothing
          : html`<p><b>The new secret of ${this.made.device}, shown this once.</b></p>
              <copy-text .text=${this.made.secret} data-what=${say`the secret of ${this.made.device}`}></copy-text>`
      }
      <p role="status">${this.done}</p>`;
  }

  #row({ device, kind, serves, createdAt, createdBy, revokedAt, secretsInForce }: DeviceShown) {
    const now = this.picture?.now ?? Date.now();
    const clock = { zone: this.picture?.zone ?? 'UTC', now };
    const heard = this.picture?.intake.devices.find((lane) => lane.device === device)?.lastAt;
    const choose = (act: Chosen['act']) => () => this.#choose({ act, device });
    return html`<tr>
      <th scope="row" class="nowrap">${device}</th>
      <td>${KIND_WORDS[kind]}</td>
      <td>${serves.length === 0 ? MISSING : serves.map((id) => (id === '*' ? say`all` : id)).join(', ')}</td>
      <td class="nowrap">${heard === undefined ? say`never` : say`${age(heard, clock)} ago`}</td>
      <td>${revokedAt === undefined ? String(secretsInForce) : html`<b>revoked</b>, ${moment(revokedAt, clock)}`}</td>
      <td>${moment(createdAt, clock)}<br /><span class="soft small">by ${createdBy}</span></td>
      <td class="acts not-printed">
        ${
          revokedAt === undefined
            ? html`<button aria-label="New secret for ${device}" @click=${choose('new-secret')}>New secret</button>
                <button aria-label="Revoke ${device}" @click=${choose('revoke')}>Revoke</button>`
            : nothing
        }
      </td>
    </tr>`;
  }

  #asked() {
    const { chosen } = this;
    if (chosen === undefined) return nothing;
    const isNew = chosen.act === 'new-secret';
    return html`<form class="not-printed" @submit=${(event: SubmitEvent) => void this.#do(event, chosen)}>
      <p>
        ${
          isNew
            ? html`<b>${chosen.device} gets another secret.</b> The one before goes on being taken for a while, so that
                it can be changed without a gap.`
            : html`<b>${chosen.device} is cut off at once</b> and can sign in no more. What it sent stays on record.`
        }
      </p>
      ${complaint(this.wrong)}
      <div class="answers">
        <button type="button" @click=${() => (this.chosen = undefined)}>Leave it</button>
        <button class="first" ?disabled=${this.sending}>
          ${isNew ? say`Confirm: new secret for ${chosen.device}` : say`Confirm: revoke ${chosen.device}`}
        </button>
      </div>
    </form>`;
  }

  #choose(chosen: Chosen): void {
    this.chosen = chosen;
    this.made = undefined;
    this.wrong = undefined;
    this.done = '';
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('form button')?.focus());
  }

  async #do(event: SubmitEvent, { act, device }: Chosen): Promise<void> {
    event.preventDefault();
    if (this.sending) return;
    this.sending = true;
    const wrong = act === 'new-secret' ? await this.#renew(device) : await this.#revoke(device);
    this.sending = false;
    this.wrong = wrong;
    if (wrong !== undefined) return;
    this.chosen = undefined;
    this.dispatchEvent(new BelongingEvent());
  }

  async #renew(device: string): Promise<string | undefined> {
    const answer = await newSecret(this.api, device);
    if (answer.kind !== 'answer') return whyNot(answer);
    this.made = answer.value;
    return undefined;
  }

  async #revoke(device: string): Promise<string | undefined> {
    const answer: Answer<unknown> = await revokeDevice(this.api, device);
    if (answer.kind !== 'answer') return whyNot(answer);
    this.done = say`${device} is revoked.`;
    return undefined;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'plant-devices': PlantDevices;
  }
}
