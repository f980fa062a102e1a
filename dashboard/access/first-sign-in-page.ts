// The first sign-in, or an invited one: a one-time token, a name, and a password of one's own. No password comes with the program.
import { LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import { whyNot, type Api } from '../api.ts';
import { look, presses } from '../look.ts';
import { signInLook } from './sign-in-look.ts';
import { textOf } from './form-text.ts';
import { tokenInFragment } from './token-in-fragment.ts';

const PASSWORD_LEAST = 8;

@customElement('first-sign-in-page')
export class FirstSignInPage extends LitElement {
  static override styles = [look, presses, signInLook];

  @property({ attribute: false }) api!: Api;
  @state() private wrong: string | undefined;
  @state() private sending = false;
  @state() private token = '';

  override connectedCallback(): void {
    super.connectedCallback();
    this.token = tokenInFragment(location.hash);
    // Out of the address at once: it would stand in the history of a shared screen.
    if (location.hash !== '') history.replaceState(history.state, '', location.pathname);
  }

  override render() {
    return html`
      <h1>First sign-in</h1>
      <p>
        The one-time token stands in the address that the program printed when it started, or in the file
        <span class="fixed">first-sign-in</span> of its data folder.
      </p>
      <form @submit=${(event: SubmitEvent) => void this.#send(event)}>
        <div>
          <label for="token">One-time token</label>
          <input
            id="token"
            name="token"
            class="fixed"
            .value=${this.token}
            autocomplete="off"
            autocapitalize="off"
            spellcheck="false"
            required
          />
        </div>
        <div>
          <label for="name">Your name, as it will stand beside what you do</label>
          <input
            id="name"
            name="name"
            autocomplete="username"
            autocapitalize="off"
            spellcheck="false"
            maxlength="40"
            required
            aria-describedby="name-hint"
          />
          <p class="soft small hint" id="name-hint">Letters, digits and hyphens.</p>
        </div>
        <div>
          <label for="password">A password of your own</label>
          <input
            id="password"
            name="password"
            type="password"
            autocomplete="new-password"
            minlength=${PASSWORD_LEAST}
            required
            aria-describedby="password-hint"
          />
          <p class="soft small hint" id="password-hint">
            At least ${PASSWORD_LEAST} characters; fifteen or more are better. Any characters, pasting is fine.
          </p>
        </div>
        ${this.wrong === undefined ? nothing : html`<p class="wrong" role="alert">${this.wrong}</p>`}
        <button class="first" type="submit" ?disabled=${this.sending}>
          ${this.sending ? say`One moment …` : say`Sign in`}
        </button>
      </form>
      <p class="soft small hint"><a href="/sign-in">I have a name and a password</a></p>
    `;
  }

  async #send(event: SubmitEvent): Promise<void> {
    event.preventDefault();
    const fields = new FormData(event.target as HTMLFormElement);
    const person = {
      token: textOf(fields, 'token').trim(),
      name: textOf(fields, 'name').trim(),
      password: textOf(fields, 'password'),
    };
    if (this.sending) return;
    this.sending = true;
    this.wrong = undefined;
    const answer = await this.api.firstSignIn(person);
    this.sending = false;
    if (answer.kind === 'answer')
      this.dispatchEvent(new Event('counterpoise-signed-in', { bubbles: true, composed: true }));
    else this.wrong = whyNot(answer);
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'first-sign-in-page': FirstSignInPage;
  }
}
