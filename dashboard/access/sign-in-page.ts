// Signing in. The address stays: who signs in finds the page that was wanted.
import { LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { whyNot, type Api } from '../api.ts';
import { look, presses } from '../look.ts';
import { textOf } from './form-text.ts';
import { signInLook } from './sign-in-look.ts';

@customElement('sign-in-page')
export class SignInPage extends LitElement {
  static override styles = [look, presses, signInLook];

  @property({ attribute: false }) api!: Api;
  @property({ type: Boolean }) ended = false;
  @state() private wrong: string | undefined;
  @state() private sending = false;

  override render() {
    return html`
      <h1>Sign in</h1>
      ${this.ended ? html`<p role="status">Your session has ended. Sign in to go on where you were.</p>` : nothing}
      <form @submit=${(event: SubmitEvent) => void this.#send(event)}>
        <div>
          <label for="name">Name</label>
          <input id="name" name="name" autocomplete="username" autocapitalize="off" spellcheck="false" required />
        </div>
        <div>
          <label for="password">Password</label>
          <input id="password" name="password" type="password" autocomplete="current-password" required />
        </div>
        ${this.wrong === undefined ? nothing : html`<p class="wrong" role="alert">${this.wrong}</p>`}
        <button class="first" type="submit" ?disabled=${this.sending}>
          ${this.sending ? say`One moment …` : say`Sign in`}
        </button>
      </form>
      <p class="soft small hint">
        The first time, or with an invitation: <a href="/first-sign-in">use a one-time token</a>.
      </p>
    `;
  }

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const fields = new FormData(event.target as HTMLFormElement);
    const name = textOf(fields, 'name').trim();
    const password = textOf(fields, 'password');
    if (name === '' || password === '' || this.sending) return;
    this.sending = true;
    this.wrong = undefined;
    const answer = await this.api.signIn({ name, password });
    this.sending = false;
    if (answer.kind === 'answer')
      this.dispatchEvent(new Event('counterpoise-signed-in', { bubbles: true, composed: true }));
    else
      this.wrong =
        answer.kind === 'problem' && answer.status === 401
          ? say`Name and password do not belong together.`
          : whyNot(answer);
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'sign-in-page': SignInPage;
  }
}
