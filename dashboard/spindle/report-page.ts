// Report: what does a repair have to know of this spindle?
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { look } from '../look.ts';
import { Page } from '../page.ts';

@customElement('report-page')
export class ReportPage extends Page {
  static override styles = [look];

  override render() {
    return html`<h1>Report</h1>
      <p class="question">What does a repair have to know of this spindle?</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'report-page': ReportPage;
  }
}
