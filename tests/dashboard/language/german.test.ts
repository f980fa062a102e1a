// Every page in German: nothing English is left on it, nothing runs over its edge, and it can be read aloud.
import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { FixtureServer } from '../fixture-server.ts';
import { axeFindings, DESK, openScreen, overflow, TABLET, UPRIGHT, type OpenPage, type Screen } from '../screen.ts';

/** Words that make English sentences and no German ones. */
const ENGLISH =
  /\b(?:the|of|is|are|were|and|with|not|its|which|has|have|by|from|than|nobody|nothing|expected|loads?)\b/i;
/** Where a text of ours may stand beside one of theirs. */
const PIECES = /[.;:,()]\s*/;
/** What there was no room for is cut off. */
const whole = (piece: string): string => piece.replace(/ ?…$/, '');
const FIXTURES = new URL('../fixtures/', import.meta.url);
const GERMAN = { locale: 'de-DE' };

const PAGES = [
  '/floor',
  '/spindle/S-01',
  '/spindle/S-05/report',
  '/spindle/S-10/report',
  '/assemblies',
  '/assembly/A-0108',
  '/assembly/A-0108/record',
  '/tool-room',
  '/headroom',
  '/holds',
  '/holds?list=ended',
  '/holds?list=answering',
  '/holds/H-4610-1',
  '/holds/H-4610-1/tag',
  '/gate?spindle=S-01&assembly=A-0108&speed=8000',
  '/intake',
  '/recording',
  '/try-out',
  '/plants',
  '/record',
  '/ahead',
  '/limits',
  '/plant',
  '/month',
  '/month?month=2024-02',
  '/nowhere',
] as const;

/** What the invented plant's service says and its people wrote is no text of ours; sentences of the real one have a test of their own. */
const INVENTED = readdirSync(FIXTURES)
  .map((name) => readFileSync(new URL(name, FIXTURES), 'utf8'))
  .join('\n')
  .replaceAll(/\s+/g, ' ')
  .toLowerCase();

let screen: Screen;
let plant: FixtureServer;
beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
});
afterAll(() => screen.close());

/** Lines of text as somebody reads them, those of other languages left out. */
async function linesOf(page: OpenPage): Promise<readonly string[]> {
  const texts = await page.evaluate(() => {
    const lines: string[] = [];
    const walk = (node: Node): void => {
      if (
        node instanceof Element &&
        (node.matches('[lang]:not(html)') || node.matches('style, script, option, noscript'))
      )
        return;
      if (node instanceof Text && node.data.trim() !== '') lines.push(node.data.trim().replaceAll(/\s+/g, ' '));
      if (node instanceof Element)
        for (const name of ['aria-label', 'title', 'placeholder']) {
          const value = node.getAttribute(name);
          if (value !== null) lines.push(value);
        }
      for (const child of node instanceof Element && node.shadowRoot !== null ? node.shadowRoot.childNodes : [])
        walk(child);
      for (const child of node.childNodes) walk(child);
    };
    walk(document.body);
    return lines;
  });
  return texts;
}

describe.each(PAGES)('%s', (path) => {
  test('says nothing in English', async () => {
    const page = await screen.open(plant, path, { ...DESK, ...GERMAN });
    await page.waitForLoadState('networkidle');
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('de');
    const left = (await linesOf(page)).filter((line) =>
      line.split(PIECES).some((piece) => ENGLISH.test(piece) && !INVENTED.includes(whole(piece).toLowerCase())),
    );
    await page.close();
    expect([...new Set(left)]).toEqual([]);
  });

  test.each([
    ['a tablet', TABLET],
    ['a tablet held upright', UPRIGHT],
  ])('stays within %s, and can be read aloud', async (_, size) => {
    const page = await screen.open(plant, path, { ...size, ...GERMAN });
    await page.waitForLoadState('networkidle');
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    expect(await axeFindings(page)).toEqual([]);
    expect(page.faults).toEqual([]);
    await page.close();
  });
});
