// A phone in a pocket: no page is wider than it, down to 320 px; what is wide scrolls inside itself.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { FixtureServer } from './fixture-server.ts';
import { openScreen, overflow, type OpenPage, type Screen } from './screen.ts';

const PATHS = [
  '/floor',
  '/holds',
  '/holds/H-4610-1',
  '/gate',
  '/tool-room',
  '/assembly/A-0108',
  '/spindle/S-10',
  '/ahead',
  '/headroom',
  '/limits',
  '/plant',
  '/record',
  '/try-out',
  '/intake',
  `/assembly/A-${'1'.repeat(500)}`,
] as const;

let screen: Screen;
let server: FixtureServer;
beforeAll(async () => {
  screen = await openScreen();
  server = await screen.plant({ spindles: 12 });
});
afterAll(() => screen.close());

for (const [width, locale] of [
  [390, 'de-DE'],
  [320, 'en-GB'],
] as const) {
  test(`${width} px wide, ${locale}`, async () => {
    const page: OpenPage = await screen.open(server, '/floor', { viewport: { width, height: 800 }, locale });
    const wider: string[] = [];
    for (const path of PATHS) {
      await page.goto(server.address + path);
      await page.getByRole('heading', { level: 1 }).first().waitFor();
      await page.getByText(/^(live \d+ s ago|aktuell vor \d+ s)$/).waitFor();
      // The raw windows of a spindle come last.
      if (path === '/spindle/S-10') await page.locator('wave-spectrum').first().waitFor();
      const over = await overflow(page);
      if (over > 0) wider.push(`${path.slice(0, 40)}: ${over}`);
    }
    expect(wider).toEqual([]);
  });
}
