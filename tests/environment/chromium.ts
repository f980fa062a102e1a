// A real browser for journeys: Debian's Chromium, headless, with a new profile each time and no traffic of its own.
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
import { findProgram } from './program.ts';

const FLAGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export interface OpenBrowser {
  readonly browser: Browser;
  /** A page in a context of its own: no cookies, no storage from another. */
  page(options?: BrowserContextOptions): Promise<Page>;
  stop(): Promise<void>;
}

export async function openBrowser(): Promise<OpenBrowser> {
  const browser = await chromium.launch({
    executablePath: findProgram('chromium', 'chromium-browser', 'google-chrome'),
    args: FLAGS,
    headless: true,
  });
  return {
    browser,
    page: async (options = {}) => (await browser.newContext(options)).newPage(),
    stop: () => browser.close(),
  };
}
