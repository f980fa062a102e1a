// The History API as a reactive controller: links of ours change the page without a reload, and Back comes back to the same place.
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { addressOf, leftAside, readRoute, withChoices, type Route } from './router.ts';
import type { ChoiceChanges } from './choices.ts';

const RESTORE_WITHIN_FRAMES = 90;
const WRITE_AGAIN_MS = 250;

interface Kept {
  readonly scrollY?: number;
}

export class Navigation implements ReactiveController {
  route: Route = readRoute(location.pathname, location.search);
  /** What the address said beside that. */
  leftAside: readonly string[] = leftAside(location.search, this.route);
  readonly #host: ReactiveControllerHost;
  readonly #onChange: () => void;
  /** Until then the address waits for more changes: browsers stop writing it where it is written too often. */
  #writing: ReturnType<typeof setTimeout> | undefined;

  constructor(host: ReactiveControllerHost, onChange: () => void) {
    this.#host = host;
    this.#onChange = onChange;
    host.addController(this);
  }

  hostConnected(): void {
    history.scrollRestoration = 'manual';
    window.addEventListener('popstate', this.#onPop);
    window.addEventListener('click', this.#onClick);
  }

  hostDisconnected(): void {
    window.removeEventListener('popstate', this.#onPop);
    window.removeEventListener('click', this.#onClick);
  }

  go(route: Route): void {
    this.#goTo(addressOf(route));
  }

  /** Another address for what is on screen already, such as a filled field: no step for Back, no new focus. */
  replace(route: Route): void {
    this.route = route;
    this.leftAside = [];
    this.#host.requestUpdate();
    if (this.#writing !== undefined) return;
    this.#write();
    this.#writing = setTimeout(() => {
      this.#writing = undefined;
      this.#write();
    }, WRITE_AGAIN_MS);
  }

  /** Another time, part or kind of what the page shows. */
  choose(changes: ChoiceChanges): void {
    this.replace(withChoices(this.route, changes));
  }

  #write(): void {
    const address = addressOf(this.route);
    if (address !== location.pathname + location.search) history.replaceState(history.state, '', address);
  }

  #goTo(address: string): void {
    this.#settle();
    const kept: Kept = { scrollY: window.scrollY };
    history.replaceState(kept, '');
    history.pushState({}, '', address);
    this.#read();
    window.scrollTo(0, 0);
  }

  /** What waits belongs to the step that is left. */
  #settle(): void {
    if (this.#writing === undefined) return;
    clearTimeout(this.#writing);
    this.#writing = undefined;
    this.#write();
  }

  #read(): void {
    this.route = readRoute(location.pathname, location.search);
    this.leftAside = leftAside(location.search, this.route);
    this.#host.requestUpdate();
    this.#onChange();
  }

  readonly #onPop = (event: PopStateEvent): void => {
    // The step that something waited for is gone already.
    clearTimeout(this.#writing);
    this.#writing = undefined;
    this.#read();
    restoreScroll((event.state as Kept | null)?.scrollY ?? 0);
  };

  readonly #onClick = (event: MouseEvent): void => {
    if (event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    const link = event.composedPath().find((target) => target instanceof HTMLAnchorElement);
    if (link === undefined || link.origin !== location.origin || link.target !== '' || link.hasAttribute('download'))
      return;
    if (link.pathname.startsWith('/api/') || link.hash !== '') return;
    event.preventDefault();
    this.#goTo(link.pathname + link.search);
  };
}

/** The page may still be fetching what makes it tall enough: tries frame by frame, and gives up when the person scrolls. */
function restoreScroll(scrollY: number): void {
  let framesLeft = RESTORE_WITHIN_FRAMES;
  let last = window.scrollY;
  const step = (): void => {
    if (window.scrollY !== last) return;
    window.scrollTo(0, scrollY);
    last = window.scrollY;
    framesLeft -= 1;
    if (Math.abs(last - scrollY) > 1 && framesLeft > 0) requestAnimationFrame(step);
  };
  requestAnimationFrame(step);
}
