// Plant: who and what belongs to this plant?
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { look } from '../look.ts';
import { Page } from '../page.ts';

@customElement('plant-page')
export class PlantPage extends Page {
  static override styles = [look];

  override render() {
    return html`<h1>Plant</h1>
      <p class="question">Who and what belongs to this plant?</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'plant-page': PlantPage;
  }
}
