// What a browser sees while a page of the dashboard is loaded for the first time: what was fetched and how, what was complained of,
// and how far things moved until several frames of live data had come.
import type { BrowserContextOptions, Page, Response } from 'playwright-core';
import type { OpenBrowser } from '../environment/chromium.ts';

const WITHIN_MS = 20_000;
/** In less nobody waits: it comes in the first two packets of the network. */
const PACKED_FROM_BYTES = 2048;
/** Of one answer about the small plant of the test. */
const ANSWER_MAX_BYTES = 64 * 1024;
/** Packed as they are. */
const PICTURES = /\.png$/;

export interface Load {
  /** Status and path of what was answered with no success, and what got no answer. */
  readonly failed: readonly string[];
  /** Addresses of anybody else. */
  readonly foreign: readonly string[];
  /** What the console says, and what the Content-Security-Policy stopped. */
  readonly complaints: readonly string[];
  /** Neither packed nor small. */
  readonly heavy: readonly string[];
  /** Kept by the browser for longer or shorter than is meant. */
  readonly wronglyKept: readonly string[];
  readonly lang: string;
  readonly title: string;
  readonly viewport: string;
  readonly headings: readonly string[];
  readonly shifted: number;
  /** What moved most, by where it was and is, for whoever has to mend it. */
  readonly moved: readonly string[];
}

interface Seen {
  readonly stopped: string[];
  readonly moved: { readonly by: number; readonly what: string }[];
}

/** Runs in the page, before anything of it. */
function watch(): void {
  const seen: Seen = { stopped: [], moved: [] };
  Object.assign(globalThis, { seenWhileLoading: seen });
  addEventListener('securitypolicyviolation', ({ blockedURI, effectiveDirective }) =>
    seen.stopped.push(`stopped by the policy: ${effectiveDirective} ${blockedURI}`),
  );
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries() as unknown as Shift[])
      if (!entry.hadRecentInput) {
        const what = entry.sources.map(
          ({ previousRect: was, currentRect: is }) =>
            `from ${Math.round(was.x)} ${Math.round(was.y)} to ${Math.round(is.x)} ${Math.round(is.y)}`,
        );
        seen.moved.push({ by: entry.value, what: what.join('; ') });
      }
  }).observe({ type: 'layout-shift', buffered: true });
}

/** Of the Layout Instability draft; TypeScript's own library lacks it. */
interface Shift {
  readonly value: number;
  readonly hadRecentInput: boolean;
  readonly sources: readonly {
    readonly previousRect: DOMRectReadOnly;
    readonly currentRect: DOMRectReadOnly;
  }[];
}

export interface Asked {
  readonly browser: OpenBrowser;
  readonly origin: string;
  readonly path: string;
  readonly options: BrowserContextOptions;
  /** Answers of the service come only after the page has been painted without them. */
  readonly slow?: boolean;
  /** So many frames of live data are waited for; none comes without a person. */
  readonly frames: number;
}

export async function loadPage(asked: Asked): Promise<Load> {
  const { browser, origin, path, options, slow = false } = asked;
  const page = await browser.page(options);
  page.setDefaultTimeout(WITHIN_MS);
  const complaints: string[] = [];
  const answers: Response[] = [];
  const failed: string[] = [];
  const foreign: string[] = [];
  const watched = page.context();
  page.on('pageerror', ({ message }) => complaints.push(message));
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) complaints.push(`${message.type()}: ${message.text()}`);
  });
  watched.on('response', (answer) => void answers.push(answer));
  watched.on('requestfailed', (request) => failed.push(`none ${pathOf(request.url())}`));
  watched.on('request', (request) => {
    if (new URL(request.url()).host !== new URL(origin).host) foreign.push(request.url());
  });
  const frames = framesOf(page, asked.frames);
  await page.addInitScript(watch);
  if (slow) await afterPainting(page);
  await page.goto(origin + path);
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  if (asked.frames > 0) await frames;
  await page.waitForLoadState('networkidle');
  await painted(page);
  const said = await saidBy(page);
  const seen = await page.evaluate(() => (globalThis as unknown as { seenWhileLoading: Seen }).seenWhileLoading);
  const weighed = await weigh(answers);
  await watched.close();
  const moved = seen.moved.sort((a, b) => b.by - a.by);
  return {
    ...said,
    ...weighed,
    failed: [
      ...failed,
      ...answers.filter((one) => one.status() >= 400).map((one) => `${one.status()} ${pathOf(one.url())}`),
    ],
    foreign,
    complaints: [...complaints, ...seen.stopped],
    shifted: moved.reduce((sum, { by }) => sum + by, 0),
    moved: moved.slice(0, 4).map(({ by, what }) => `${by.toFixed(4)}: ${what}`),
  };
}

const pathOf = (url: string): string => new URL(url).pathname;

/** Resolves once so many frames of the feed have arrived. */
function framesOf(page: Page, wanted: number): Promise<void> {
  let come = 0;
  return new Promise((resolve) => {
    page.on('websocket', (socket) =>
      socket.on('framereceived', () => {
        come += 1;
        if (come >= wanted) resolve();
      }),
    );
  });
}

async function painted(page: Page): Promise<void> {
  await page.evaluate(
    () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(undefined)))),
  );
}

async function afterPainting(page: Page): Promise<void> {
  await page.route('**/api/**', async (route) => {
    await painted(page);
    await route.continue();
  });
}

function saidBy(page: Page): Promise<Pick<Load, 'lang' | 'title' | 'viewport' | 'headings'>> {
  return page.evaluate(() => {
    const headings: string[] = [];
    const walk = (node: Element | ShadowRoot): void => {
      for (const child of node.children) {
        if (child.localName === 'h1') headings.push(child.textContent.trim());
        if (child.shadowRoot !== null) walk(child.shadowRoot);
        walk(child);
      }
    };
    walk(document.documentElement);
    return {
      lang: document.documentElement.lang,
      title: document.title,
      viewport: document.querySelector<HTMLMetaElement>('meta[name=viewport]')?.content ?? '',
      headings,
    };
  });
}

async function weigh(answers: readonly Response[]): Promise<Pick<Load, 'heavy' | 'wronglyKept'>> {
  const heavy: string[] = [];
  const wronglyKept: string[] = [];
  for (const answer of answers.filter((one) => one.status() === 200)) {
    const path = pathOf(answer.url());
    const headers = await answer.allHeaders();
    const { length } = await answer.body();
    const packed = /^(?:br|gzip)$/.test(headers['content-encoding'] ?? '') || PICTURES.test(path);
    if (!packed && length > (path.startsWith('/api/') ? ANSWER_MAX_BYTES : PACKED_FROM_BYTES))
      heavy.push(`${path} ${length} bytes`);
    const kept = headers['cache-control'] ?? 'nothing';
    if (kept !== meantToBeKept(path)) wronglyKept.push(`${path}: ${kept}`);
  }
  return { heavy, wronglyKept };
}

/** What has the hash of its content in its name never changes; the page and what it is found by may at any time. */
function meantToBeKept(path: string): string {
  if (path.startsWith('/api/')) return 'no-store';
  return path.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache';
}
