// A browser before a service, signed in: each page with caches of its own, and what it has to wait for.
import type { BrowserContextOptions, Page } from 'playwright-core';
import { openBrowser, type OpenBrowser } from '../../environment/chromium.ts';

const WITHIN_MS = 60_000;
const DESK: BrowserContextOptions = { viewport: { width: 1440, height: 900 }, locale: 'en-GB' };

export interface SignedIn {
  readonly browser: OpenBrowser['browser'];
  /** Nothing of it is cached; it has not been anywhere yet. */
  page(options?: BrowserContextOptions): Promise<Page>;
  stop(): Promise<void>;
}

export async function openSignedIn(url: string, cookie: string): Promise<SignedIn> {
  const open = await openBrowser();
  const [name = '', ...value] = cookie.split('=');
  return {
    browser: open.browser,
    page: async (options = {}) => {
      const page = await open.page({ ...DESK, ...options });
      page.setDefaultTimeout(WITHIN_MS);
      await page.context().addCookies([{ name, value: value.join('='), url }]);
      return page;
    },
    stop: () => open.stop(),
  };
}

/** Floor stands: so many lines, each with its picture. */
export async function untilFloorShown(page: Page, lines: number): Promise<void> {
  await page
    .locator('floor-page .rows > li spindle-ribbon svg')
    .nth(lines - 1)
    .waitFor({ state: 'attached' });
}
