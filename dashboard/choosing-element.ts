// What a part of a page is given of the page's choices, and how it tells another one.
import { LitElement } from 'lit';
import { property } from 'lit/decorators.js';
import { ChoiceEvent } from './choice-event.ts';
import { NOTHING_CHOSEN, type ChoiceChanges, type Choices } from './choices.ts';

export abstract class ChoosingElement extends LitElement {
  /** As the page's address says them; what of them is read here, and what further in, each element says. */
  @property({ attribute: false }) choices: Choices = NOTHING_CHOSEN;

  /** Comes back by way of the address. */
  protected choose(changes: ChoiceChanges): void {
    this.dispatchEvent(new ChoiceEvent(changes));
  }
}
