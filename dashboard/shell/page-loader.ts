// Each page is its own piece of the program, fetched when it is first asked for.
import type { Staged } from './page-stage.ts';

const PIECES: Readonly<Record<Staged, () => Promise<unknown>>> = {
  floor: () => import('../floor/floor-page.ts'),
  spindle: () => import('../spindle/spindle-page.ts'),
  assemblies: () => import('../assembly/assemblies-page.ts'),
  assembly: () => import('../assembly/assembly-page.ts'),
  record: () => import('../assembly/record-page.ts'),
  'tool-room': () => import('../tool-room/tool-room-page.ts'),
  headroom: () => import('../headroom/headroom-page.ts'),
  holds: () => import('../holds/holds-page.ts'),
  hold: () => import('../holds/hold-page.ts'),
  tag: () => import('../holds/tag-page.ts'),
  gate: () => import('../gate/gate-page.ts'),
  intake: () => import('../intake/intake-page.ts'),
  recording: () => import('../recording/recording-page.ts'),
  'try-out': () => import('../try-out/try-out-page.ts'),
  ahead: () => import('../ahead/ahead-page.ts'),
  limits: () => import('../limits/limits-page.ts'),
  plant: () => import('../plant/plant-page.ts'),
  acts: () => import('../acts/acts-page.ts'),
  month: () => import('../month/month-page.ts'),
  report: () => import('../spindle/report-page.ts'),
  plants: () => import('../plants/plants-page.ts'),
  'sign-in': () => import('../access/sign-in-page.ts'),
  'first-sign-in': () => import('../access/first-sign-in-page.ts'),
};

export type PieceState = 'fetching' | 'there' | 'failed';

export class PageLoader {
  readonly #states = new Map<Staged, PieceState>();
  readonly #onChange: () => void;

  constructor(onChange: () => void) {
    this.#onChange = onChange;
  }

  stateOf(page: Staged): PieceState {
    const state = this.#states.get(page);
    if (state !== undefined) return state;
    this.#states.set(page, 'fetching');
    void this.#fetch(page);
    return 'fetching';
  }

  async #fetch(page: Staged): Promise<void> {
    try {
      await PIECES[page]();
      this.#states.set(page, 'there');
    } catch {
      // The service was renewed or is away: the pieces of this build may be gone.
      this.#states.set(page, 'failed');
    }
    this.#onChange();
  }
}
