// Ahead: what reaches its limit, when, and how sure is it?
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { look } from '../look.ts';
import { Page } from '../page.ts';

@customElement('ahead-page')
export class AheadPage extends Page {
  static override styles = [look];

  override render() {
    return html`<h1>Ahead</h1>
      <p class="question">What reaches its limit, when, and how sure is it?</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'ahead-page': AheadPage;
  }
}
