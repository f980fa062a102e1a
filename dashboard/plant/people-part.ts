// People with their roles: invited, given other roles, disabled or given a new token; each said again in another place before it is done.
import { css, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { say } from '../../shared/language/index.ts';
import { ROLES, type Role } from '../../shared/rights.ts';
import { whyNot, type Api } from '../api.ts';
import { html } from '../language/html.ts';
import { look, presses, tables } from '../look.ts';
import { openedForm } from '../opened-form.ts';
import { complaint } from '../statement-form.ts';
import { ROLE_WORDS } from '../wording/hold-words.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { BelongingEvent } from './connect-guide.ts';
import './copy-text.ts';
import { changePerson, invitePerson, type PersonChanged, type PersonShown } from './plant-asks.ts';
import { ROLE_DOES } from './plant-words.ts';

type Act = 'invite' | 'roles' | 'disable' | 'enable' | 'reset';
interface Chosen {
  readonly act: Act;
  readonly name: string;
}

@customElement('plant-people')
export class PlantPeople extends LitElement {
  static override styles = [
    look,
    presses,
    tables,
    openedForm,
    css`
      td.acts {
        display: flex;
        flex-wrap: wrap;
        gap: 0.25rem;
      }
      form {
        margin: 0.75rem 0;
        max-width: 44rem;
      }
      fieldset {
        border: 0;
        padding: 0;
        margin: 0.5rem 0;
      }
      fieldset label {
        display: flex;
        gap: 0.6rem;
        align-items: center;
        min-height: var(--target);
        font-weight: 400;
      }
      fieldset input {
        width: 1.25rem;
        min-height: 1.25rem;
        flex: none;
      }
    `,
  ];

  @property({ attribute: false }) api!: Api;
  @property({ attribute: false }) clock!: PlantClock;
  @property({ attribute: false }) people: readonly PersonShown[] = [];
  @state() private chosen: Chosen | undefined;
  @state() private roles: readonly Role[] = [];
  @state() private made: PersonChanged | undefined;
  @state() private wrong: string | undefined;
  @state() private done = '';
  @state() private sending = false;

  override render() {
    return html`<div class="scrolls" tabindex="0" role="group" aria-label="People">
        <table>
          <thead>
            <tr>
              <th scope="col">Name</th>
              <th scope="col">Roles</th>
              <th scope="col">Last sign-in</th>
              <th scope="col">Invited</th>
              <th scope="col" class="not-printed"><span class="only-heard">Acts</span></th>
            </tr>
          </thead>
          <tbody>
            ${this.people.map((person) => this.#row(person))}
          </tbody>
        </table>
      </div>
      ${this.chosen === undefined ? html`<p class="not-printed"><button @click=${() => this.#choose('invite', '', ['viewer'])}>Invite somebody</button></p>` : this.#asked(this.chosen)}
      ${this.#token()}
      <p role="status">${this.done}</p>`;
  }

  #row({ name, roles, disabled, hasPassword, createdAt, createdBy, lastSignInAt }: PersonShown) {
    const act = (what: Act, word: string, heard: string) =>
      html`<button aria-label=${heard} @click=${() => this.#choose(what, name, roles)}>${word}</button>`;
    return html`<tr>
      <th scope="row">${name}${disabled ? html` <b>disabled</b>` : nothing}</th>
      <td>${roles.map((role) => ROLE_WORDS[role]).join(', ')}</td>
      <td class="nowrap">
        ${lastSignInAt !== undefined ? moment(lastSignInAt, this.clock) : hasPassword ? say`never` : say`never; no password chosen yet`}
      </td>
      <td>${moment(createdAt, this.clock)}<br /><span class="soft small">by ${createdBy}</span></td>
      <td class="not-printed">
        <div class="answers">
          ${act('roles', say`Other roles`, say`Other roles for ${name}`)}
          ${act('reset', say`Reset password`, say`Reset password of ${name}`)}
          ${disabled ? act('enable', say`Let in again`, say`Let in again: ${name}`) : act('disable', say`Disable`, say`Disable ${name}`)}
        </div>
      </td>
    </tr>`;
  }

  #asked({ act, name }: Chosen) {
    const lacks = (act === 'invite' || act === 'roles') && this.roles.length === 0;
    return html`<form class="not-printed" @submit=${(event: SubmitEvent) => void this.#do(event)}>
      ${this.#what(act, name)} ${act === 'invite' || act === 'roles' ? this.#roleChoice() : nothing}
      ${complaint(this.wrong)}
      <div class="answers">
        <button type="button" @click=${() => (this.chosen = undefined)}>Leave it</button>
        <button class="first" ?disabled=${lacks || this.sending}>${confirmWords(act, name)}</button>
      </div>
    </form>`;
  }

  #what(act: Act, name: string) {
    switch (act) {
      case 'invite':
        return html`<label for="name">Name, of letters, digits and hyphens</label>
          <input
            id="name"
            required
            pattern="[A-Za-z0-9\\-]{1,40}"
            maxlength="40"
            autocomplete="off"
            .value=${name}
            @input=${(event: Event) => (this.chosen = { act, name: (event.target as HTMLInputElement).value.trim() })}
          />`;
      case 'roles':
        return html`<p><b>Other roles for ${name}</b>, in force at once.</p>`;
      case 'disable':
        return html`<p>
          <b>${name} is signed out everywhere and can sign in no more</b> until let in again. What ${name} did stays on
          record.
        </p>`;
      case 'enable':
        return html`<p><b>${name} can sign in again</b>, with the roles as they are.</p>`;
      case 'reset':
        return html`<p>
          <b>The password of ${name} counts no more.</b> With a token, shown once, ${name} chooses a new one.
        </p>`;
    }
  }

  #roleChoice() {
    return html`<fieldset>
      <legend>Roles: the least that are needed</legend>
      ${ROLES.map(
        (role) =>
          html`<label>
            <input
              type="checkbox"
              .checked=${this.roles.includes(role)}
              @change=${(event: Event) => this.#setRole(role, (event.target as HTMLInputElement).checked)}
            />
            <span>${ROLE_WORDS[role]} <span class="soft small">${ROLE_DOES[role]}</span></span>
          </label>`,
      )}
    </fieldset>`;
  }

  #token() {
    const { made } = this;
    if (made?.token === undefined) return nothing;
    const link = `${location.origin}/first-sign-in#token=${made.token}`;
    return html`<p>
        <b>With this link ${made.user.name} chooses a password. It is shown this once</b> and good until
        ${moment(made.endsAt, this.clock)}; hand it over yourself.
      </p>
      <copy-text .text=${link} data-what=${say`the link for ${made.user.name}`}></copy-text>`;
  }

  #setRole(role: Role, on: boolean): void {
    this.roles = ROLES.filter((one) => (one === role ? on : this.roles.includes(one)));
  }

  #choose(act: Act, name: string, roles: readonly Role[]): void {
    this.chosen = { act, name };
    this.roles = roles;
    this.made = undefined;
    this.wrong = undefined;
    this.done = '';
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('form input, form button')?.focus());
  }

  async #do(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const { chosen } = this;
    if (chosen === undefined || this.sending) return;
    this.sending = true;
    const answer = await this.#ask(chosen);
    this.sending = false;
    if (answer.kind !== 'answer') {
      this.wrong = whyNot(answer);
      return;
    }
    this.wrong = undefined;
    this.chosen = undefined;
    this.made = answer.value;
    this.done = answer.value.token === undefined ? say`Done: ${answer.value.user.name}.` : '';
    this.dispatchEvent(new BelongingEvent());
  }

  #ask({ act, name }: Chosen) {
    switch (act) {
      case 'invite':
        return invitePerson(this.api, name, this.roles);
      case 'roles':
        return changePerson(this.api, name, { roles: this.roles });
      case 'disable':
        return changePerson(this.api, name, { disabled: true });
      case 'enable':
        return changePerson(this.api, name, { disabled: false });
      case 'reset':
        return changePerson(this.api, name, { reset: true });
    }
  }
}

function confirmWords(act: Act, name: string): string {
  switch (act) {
    case 'invite':
      return say`Confirm: invite`;
    case 'roles':
      return say`Confirm: these roles for ${name}`;
    case 'disable':
      return say`Confirm: disable ${name}`;
    case 'enable':
      return say`Confirm: let ${name} in again`;
    case 'reset':
      return say`Confirm: reset the password of ${name}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'plant-people': PlantPeople;
  }
}
