// The History API as a reactive controller: links of ours change the page without a reload, and Back comes back to the same place.
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { addressOf, readRoute, type Route } from './router.ts';

const RESTORE_WITHIN_FRAMES = 90;

interface Kept {
  readonly scrollY?: number;
}

export class Navigation implements ReactiveController {
  route: Route = readRoute(location.pathname, location.search);
  readonly #host: ReactiveControllerHost;
  readonly #onChange: () => void;

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
    history.replaceState(history.state, '', addressOf(route));
    this.route = route;
    this.#host.requestUpdate();
  }

  #goTo(address: string): void {
    const kept: Kept = { scrollY: window.scrollY };
    history.replaceState(kept, '');
    history.pushState({}, '', address);
    this.#read();
    window.scrollTo(0, 0);
  }

  #read(): void {
    this.route = readRoute(location.pathname, location.search);
    this.#host.requestUpdate();
    this.#onChange();
  }

  readonly #onPop = (event: PopStateEvent): void => {
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
