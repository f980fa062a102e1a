// Another time, part or kind was chosen on a page: told upwards to whoever keeps the address, and come back from there to be shown.
import type { ChoiceChanges } from './choices.ts';

export class ChoiceEvent extends Event {
  static readonly type = 'counterpoise-choice';
  readonly changes: ChoiceChanges;

  constructor(changes: ChoiceChanges) {
    super(ChoiceEvent.type, { bubbles: true, composed: true });
    this.changes = changes;
  }
}
