// Record: who did what, and is it still what was written down?
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { look } from '../look.ts';
import { Page } from '../page.ts';

@customElement('acts-page')
export class ActsPage extends Page {
  static override styles = [look];

  override render() {
    return html`<h1>Record</h1>
      <p class="question">Who did what, and is it still what was written down?</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'acts-page': ActsPage;
  }
}
