// Draws the icons of the installed dashboard from dashboard/mark.svg: `node tests/dashboard/make-icons.mjs` writes them.
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const MARK = new URL('../../dashboard/mark.svg', import.meta.url);
const FOLDER = new URL('../../dashboard/public/icons/', import.meta.url);
/** Whatever lies within a circle of 40 % of the icon's width is always shown (W3C, Web Application Manifest, "maskable"). */
const MASKABLE_SHARE = 0.62;

export const ICONS = [192, 512].flatMap((size) => [
  { name: `mark-${size}.png`, size, maskable: false },
  { name: `maskable-${size}.png`, size, maskable: true },
]);

/** The picture as a PNG, drawn by a page of a browser that is there already. */
export async function drawIcon(page, { size, maskable }) {
  const mark = readFileSync(MARK, 'utf8');
  const ground = /<rect[^>]*fill="(#[0-9A-F]{6})"/i.exec(mark)?.[1];
  if (ground === undefined) throw new Error('the mark has no ground');
  const side = maskable ? Math.round(size * MASKABLE_SHARE) : size;
  const outer = `margin:0;width:${size}px;height:${size}px;display:grid;place-items:center;`;
  await page.setViewportSize({ width: size, height: size });
  await page.setContent(
    `<body style="${outer}background:${maskable ? ground : 'transparent'}"><img width="${side}" height="${side}" src="data:image/svg+xml;base64,${Buffer.from(mark).toString('base64')}"></body>`,
  );
  await page.locator('img').evaluate((image) => image.decode());
  return page.screenshot({ omitBackground: true });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const executablePath = execFileSync('which', ['chromium'], { encoding: 'utf8' }).trim();
  const browser = await chromium.launch({ executablePath, args: ['--headless', '--no-sandbox'] });
  const page = await browser.newPage();
  mkdirSync(FOLDER, { recursive: true });
  for (const icon of ICONS) writeFileSync(new URL(icon.name, FOLDER), await drawIcon(page, icon));
  await browser.close();
}
