// A picture that is saved asks its page which plant it is of: the page is above it, whatever lies between.
import type { Picture } from '../feed-fold.ts';

export class PlantAsked extends Event {
  static readonly type = 'counterpoise-plant-asked';
  told: Pick<Picture, 'plant' | 'zone' | 'now' | 'invented'> | undefined;

  constructor() {
    super(PlantAsked.type, { bubbles: true, composed: true });
  }
}
