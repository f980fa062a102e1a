// Beside the page, in the browser: keeps the files of one build, and answers with them while the service is away. Nothing
// that the service says of a plant or a person passes through here, and nothing is kept that is not a file of the build.

/** Put in by the build: the addresses of its files, and what names them together. */
declare const FILES_OF_THIS_BUILD: readonly string[];
declare const NAME_OF_THIS_BUILD: string;

/** What a worker is given; the page's own types do not know it. */
interface Waits extends Event {
  waitUntil(done: Promise<unknown>): void;
}
interface Fetches extends Event {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface Worker {
  readonly clients: { claim(): Promise<void> };
  readonly location: Location;
  skipWaiting(): Promise<void>;
  addEventListener(type: 'install' | 'activate', on: (event: Waits) => void): void;
  addEventListener(type: 'fetch', on: (event: Fetches) => void): void;
}
const worker = self as unknown as Worker;

const KEPT = 'counterpoise-shell-';
const CACHE = `${KEPT}${NAME_OF_THIS_BUILD}`;
const PAGE = '/';
/** What the service says itself, and no page of the dashboard. */
const OF_THE_SERVICE = /^\/(?:api|certificate|healthz|metrics|readyz)(?:\/|$)/;
const FILES = new Set(FILES_OF_THIS_BUILD);
/** A weak radio link may neither answer nor fail; the page that is kept does as well. */
const PAGE_WITHIN_MS = 4000;
/** Something between us and the service says that the service is away. */
const AWAY: readonly number[] = [502, 503, 504];

worker.addEventListener('install', (event) => event.waitUntil(keepFiles()));
worker.addEventListener('activate', (event) => event.waitUntil(takeOver()));
worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== worker.location.origin || OF_THE_SERVICE.test(pathname)) return;
  if (request.mode === 'navigate') event.respondWith(page(request));
  else if (FILES.has(pathname)) event.respondWith(file(request, pathname));
});

async function keepFiles(): Promise<void> {
  const cache = await caches.open(CACHE);
  // All of them or none: half a build would be no shell. The page is looked up, hashed files may come from the browser.
  await cache.addAll([new Request(PAGE, { cache: 'no-cache' }), ...FILES]);
  await worker.skipWaiting();
}

/** The build before is gone with its files; a page of it that still wants one says that it is to be loaded anew. */
async function takeOver(): Promise<void> {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(KEPT) && name !== CACHE).map((name) => caches.delete(name)));
  await worker.clients.claim();
}

/** The service's own page wherever it answers, so that a renewed service is seen at the next load. */
async function page(request: Request): Promise<Response> {
  const kept = (await caches.open(CACHE)).match(PAGE);
  try {
    const answer = await Promise.race([fetch(request), late()]);
    return AWAY.includes(answer.status) ? ((await kept) ?? answer) : answer;
  } catch {
    return (await kept) ?? Response.error();
  }
}

async function file(request: Request, pathname: string): Promise<Response> {
  return (await (await caches.open(CACHE)).match(pathname)) ?? fetch(request);
}

const late = (): Promise<never> =>
  new Promise((_, reject) => setTimeout(() => reject(new Error('no page in time')), PAGE_WITHIN_MS));
