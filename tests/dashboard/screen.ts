// A screen in front of the invented plant: the dashboard bundled anew, the fixture server behind it, a browser before it.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { build } from 'vite';
import { openBrowser } from '../environment/chromium.ts';
import { makeFolder } from '../environment/folder.ts';
import { startFixtureServer, type FixtureOptions, type FixtureServer } from './fixture-server.ts';

const DASHBOARD = fileURLToPath(new URL('../../dashboard', import.meta.url));
const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
export const WITHIN_MS = 15_000;

export const DESK: BrowserContextOptions = { viewport: { width: 1440, height: 900 } };
export const TABLET: BrowserContextOptions = { viewport: { width: 1280, height: 800 }, hasTouch: true, isMobile: true };
export const UPRIGHT: BrowserContextOptions = {
  viewport: { width: 800, height: 1280 },
  hasTouch: true,
  isMobile: true,
};

/** A page, with the name of whatever went wrong in it so far. */
export type OpenPage = Page & { readonly faults: string[] };

export interface Screen {
  plant(options: Omit<FixtureOptions, 'files'>): Promise<FixtureServer>;
  /** A page on an address of a plant. */
  open(server: FixtureServer, path: string, options?: BrowserContextOptions): Promise<OpenPage>;
  close(): Promise<void>;
}

export async function openScreen(): Promise<Screen> {
  const files = makeFolder('dashboard');
  await build({ root: DASHBOARD, logLevel: 'error', mode: 'test', build: { outDir: files.path, emptyOutDir: true } });
  const browser = await openBrowser();
  const servers: FixtureServer[] = [];
  return {
    plant: async (options) => {
      const server = await startFixtureServer({ ...options, files: files.path });
      servers.push(server);
      return server;
    },
    open: async (server, path, options = DESK) => {
      // Its files are kept by no browser, unless a test is about that: each build is served at once.
      const page = await browser.page({ serviceWorkers: 'block', ...options });
      page.setDefaultTimeout(WITHIN_MS);
      const faults: string[] = [];
      page.on('pageerror', (fault) => faults.push(fault.message));
      page.on('console', (message) => {
        // An answer that is no 200 is told by the browser too; what the page makes of it is what counts.
        if (message.type() === 'error' && !message.text().startsWith('Failed to load resource'))
          faults.push(message.text());
      });
      await page.goto(server.address + path);
      await page.getByRole('heading', { level: 1 }).first().waitFor();
      return Object.assign(page, { faults });
    },
    close: async () => {
      await browser.stop();
      for (const server of servers) await server.stop();
      files.remove();
    },
  };
}

interface AxeWindow {
  readonly axe: {
    run(
      root: Document,
      options: { runOnly: string[] },
    ): Promise<{ violations: { id: string; nodes: { target: unknown[] }[] }[] }>;
  };
}

/** What axe-core finds: the rule and where. */
export async function axeFindings(page: Page): Promise<string[]> {
  await page.evaluate(`${readFileSync(AXE, 'utf8')};window.axe = axe; undefined`);
  return page.evaluate(async (runOnly) => {
    const { violations } = await (globalThis as unknown as AxeWindow).axe.run(document, { runOnly });
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.flat().join(' ')).join(', ')}`);
  }, RULES);
}

/** How far the page reaches beyond its right edge, in px. */
export function overflow(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
}

/** Height and width of whatever can be pressed within an element, with its words. */
export function pressable(page: Page, within: string): Promise<{ words: string; width: number; height: number }[]> {
  return page
    .locator(within)
    .locator('button, a.line, a.press, input')
    .evaluateAll((elements) =>
      elements.map((element) => {
        const { width, height } = element.getBoundingClientRect();
        return { words: element.textContent?.trim() ?? '', width: Math.round(width), height: Math.round(height) };
      }),
    );
}
