// Which element shows which page: made when its page is turned to, given anew what it needs at every change.
import type { SessionView } from '../../shared/session.ts';
import type { Api } from '../api.ts';
import type { Picture } from '../feed-fold.ts';
import type { PageName, Route } from '../router.ts';
import type { ActQueue, WaitingAct } from '../waiting/act-queue.ts';
import type { OpenedHolds } from './opened-holds.ts';

/** What a page is given; each takes of it what it declares as a property. */
export interface Given {
  readonly api: Api;
  readonly route: Route;
  readonly picture: Picture | undefined;
  readonly live: boolean;
  readonly person: SessionView | undefined;
  readonly opened: OpenedHolds;
  readonly queue: ActQueue;
  readonly waiting: readonly WaitingAct[];
  readonly replace: (route: Route) => void;
  /** Somebody was signed in at this screen until just now. */
  readonly ended: boolean;
}

export type Staged = Exclude<PageName, 'unknown'>;

const TAGS: Readonly<Record<Staged, string>> = {
  floor: 'floor-page',
  spindle: 'spindle-page',
  assemblies: 'assemblies-page',
  assembly: 'assembly-page',
  record: 'record-page',
  'tool-room': 'tool-room-page',
  headroom: 'headroom-page',
  holds: 'holds-page',
  hold: 'hold-page',
  tag: 'tag-page',
  gate: 'gate-page',
  intake: 'intake-page',
  recording: 'recording-page',
  'try-out': 'try-out-page',
  ahead: 'ahead-page',
  limits: 'limits-page',
  plant: 'plant-page',
  acts: 'acts-page',
  month: 'month-page',
  report: 'report-page',
  plants: 'plants-page',
  'sign-in': 'sign-in-page',
  'first-sign-in': 'first-sign-in-page',
};

export class PageStage {
  #page: Staged | undefined;
  #element: HTMLElement | undefined;

  show(page: Staged, given: Given): HTMLElement {
    if (this.#element === undefined || this.#page !== page) {
      this.#page = page;
      this.#element = document.createElement(TAGS[page]);
    }
    return Object.assign(this.#element, given);
  }
}
