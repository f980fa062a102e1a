// What makes the dashboard installable, in the bundle: manifest, icons, colours, and a worker that names every file of the build.
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { build } from 'vite';
import type { Page } from 'playwright-core';
import { openBrowser, type OpenBrowser } from '../environment/chromium.ts';
import { makeFolder } from '../environment/folder.ts';
import { startFixtureServer, type FixtureServer } from './fixture-server.ts';

const DASHBOARD = fileURLToPath(new URL('../../dashboard', import.meta.url));
const { drawIcon, ICONS } = (await import(new URL('./make-icons.mjs', import.meta.url).href)) as {
  readonly ICONS: readonly { readonly name: string; readonly size: number; readonly maskable: boolean }[];
  readonly drawIcon: (page: Page, icon: { readonly size: number; readonly maskable: boolean }) => Promise<Buffer>;
};
/** Between two drawings of the same icon by two browsers; of another picture it is some tens. */
const MEAN_DIFFERENCE_MAX = 2;
const WITHIN_MS = 15_000;

const folder = makeFolder('installed');
let browser: OpenBrowser;
beforeAll(async () => {
  await build({ root: DASHBOARD, logLevel: 'error', build: { outDir: folder.path, emptyOutDir: true } });
  browser = await openBrowser();
});
afterAll(async () => {
  await browser.stop();
  folder.remove();
});

const read = (name: string): string => readFileSync(join(folder.path, name), 'utf8');

interface Manifest {
  readonly icons: readonly { readonly src: string; readonly sizes: string; readonly purpose: string }[];
}

describe('the manifest', () => {
  test('names the product, where it begins, and icons that are there, maskable ones among them', () => {
    const manifest = JSON.parse(read('manifest.webmanifest')) as Manifest;
    expect(manifest).toMatchObject({
      name: 'Counterpoise',
      short_name: 'Counterpoise',
      start_url: '/holds',
      scope: '/',
      display: 'standalone',
    });
    const drawn = manifest.icons.map(({ sizes, purpose }) => `${sizes} ${purpose}`);
    expect(drawn.sort()).toEqual(['192x192 any', '192x192 maskable', '512x512 any', '512x512 maskable']);
    expect(manifest.icons.filter(({ src }) => !existsSync(join(folder.path, src)))).toEqual([]);
  });

  test('is linked, with the colours of the ground in light and dark', () => {
    const [, light = '', dark = ''] = /--ground: light-dark\((.*?), (.*?)\)/.exec(
      readFileSync(join(DASHBOARD, 'tokens.css'), 'utf8'),
    )!;
    const page = read('index.html');
    expect(page).toContain('<link rel="manifest" href="/manifest.webmanifest">');
    expect(page).toContain(`<meta name="theme-color" content="${light}" media="(prefers-color-scheme: light)">`);
    expect(page).toContain(`<meta name="theme-color" content="${dark}" media="(prefers-color-scheme: dark)">`);
    expect(read('manifest.webmanifest')).toContain(`"theme_color": "${light}"`);
  });
});

test.each(ICONS)('$name is the mark as it is now', async (icon) => {
  const page = await browser.page();
  const drawn = await drawIcon(page, icon);
  const kept = readFileSync(join(DASHBOARD, 'public', 'icons', icon.name));
  const difference = await page.evaluate(
    async (pictures) => {
      const [one = [], two = []] = await Promise.all(
        pictures.map(async (base64) => {
          const image = new Image();
          image.src = `data:image/png;base64,${base64}`;
          await image.decode();
          const { width, height } = image;
          const paper = new OffscreenCanvas(width, height).getContext('2d')!;
          paper.drawImage(image, 0, 0);
          return [width, ...paper.getImageData(0, 0, width, height).data];
        }),
      );
      return one[0] === two[0] ? one.reduce((sum, value, i) => sum + Math.abs(value - two[i]!), 0) / one.length : 255;
    },
    [drawn.toString('base64'), kept.toString('base64')],
  );
  expect(difference).toBeLessThan(MEAN_DIFFERENCE_MAX);
  expect(kept.length).toBeLessThan(20_000);
  await page.context().close();
});

describe('the worker', () => {
  test('is one file at the root that names every hashed file of this build, languages too, and nothing of the service', () => {
    const worker = read('worker.js');
    const assets = readdirSync(join(folder.path, 'assets')).filter((name) => !/\.(?:map|gz|br)$/.test(name));
    expect(assets.filter((name) => !worker.includes(`/assets/${name}`))).toEqual([]);
    expect(assets.some((name) => name.startsWith('de-'))).toBe(true);
    expect(worker).not.toMatch(/FILES_OF_THIS_BUILD|NAME_OF_THIS_BUILD|\bimport\b|\bexport\b|\.put\(/);
  });

  describe('of a service that is renewed under an open page', () => {
    let server: FixtureServer;
    let page: Page;
    beforeAll(async () => {
      server = await startFixtureServer({ spindles: 3, files: folder.path });
      page = await browser.page();
      await page.goto(`${server.address}/holds`);
      await page.getByText(/^live \d+ s ago$/).waitFor();
      await page.evaluate(() => navigator.serviceWorker.ready);
    });
    afterAll(async () => {
      await page.context().close();
      await server.stop();
    });

    const kept = (): Promise<string[]> => page.evaluate(() => caches.keys());

    test('the new build takes over, and the files of the old one are gone', async () => {
      await expect
        .poll(kept, { timeout: WITHIN_MS })
        .toEqual([expect.stringMatching(/^counterpoise-shell-[0-9a-f]{16}$/)]);
      const piece = readdirSync(join(folder.path, 'assets')).find((name) => name.startsWith('intake-page-'))!;
      const renewed = read('worker.js').replace(`"/assets/${piece}",`, '');
      writeFileSync(join(folder.path, 'worker.js'), renewed.replace(/(["`])[0-9a-f]{16}\1/, '"0123456789abcdef"'));
      rmSync(join(folder.path, 'assets', piece));
      await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
      await expect.poll(kept, { timeout: WITHIN_MS }).toEqual(['counterpoise-shell-0123456789abcdef']);
    });

    test('a piece of the old build that is still wanted says that the page is to be loaded anew', async () => {
      await page.getByRole('link', { name: 'Intake' }).click();
      await page.getByRole('heading', { name: 'This page could not be fetched' }).waitFor();
      expect(await page.getByRole('link', { name: 'Load it anew' }).count()).toBe(1);
    });
  });
});
