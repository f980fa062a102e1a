// Month: what happened in this month?
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { look } from '../look.ts';
import { Page } from '../page.ts';

@customElement('month-page')
export class MonthPage extends Page {
  static override styles = [look];

  override render() {
    return html`<h1>Month</h1>
      <p class="question">What happened in this month?</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'month-page': MonthPage;
  }
}
