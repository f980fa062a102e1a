// Limits: whose limits are they, and since when?
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { look } from '../look.ts';
import { Page } from '../page.ts';

@customElement('limits-page')
export class LimitsPage extends Page {
  static override styles = [look];

  override render() {
    return html`<h1>Limits</h1>
      <p class="question">Whose limits are they, and since when?</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'limits-page': LimitsPage;
  }
}
