// A journey on the whole service in a real browser, under its own content policy: a recording is chosen, as a table and as a WAV
// file, and says in words and pictures what is known of it; the service never sees it.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBrowser, type OpenBrowser } from '../environment/chromium.ts';
import { asTable, asWave, FULL_SCALE_G } from '../shared/recorded-file/measured-recording.ts';
import { startStand, type Stand } from '../whole/stand.ts';

const PASSWORD = 'a long one of the test';
const WITHIN_MS = 15_000;
/** Real recordings of a motor test bench: strong unbalance, and a damaged outer race. */
const UNBALANCED = '1800_GoB_GS_VHIL_WA_00lb_x.f32';
const OUTER_RACE = '1800_HOR_GS_BaLo_WA_00lb_x.f32';

let stand: Stand;
let browser: OpenBrowser;
let page: Page;
const faults: string[] = [];
const sent: string[] = [];
const folder = mkdtempSync(join(tmpdir(), 'recording-'));

function fileOf(name: string, bytes: Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, bytes);
  return path;
}

beforeAll(async () => {
  stand = await startStand({ devices: [] });
  browser = await openBrowser();
  page = await browser.page({ viewport: { width: 1440, height: 900 } });
  page.setDefaultTimeout(WITHIN_MS);
  page.on('pageerror', (fault) => faults.push(fault.message));
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  await page.goto(`${stand.url}/first-sign-in#token=${stand.firstToken()}`);
  await page.getByLabel('Your name').fill('eve');
  await page.getByLabel('A password of your own').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByText(/live \d+ s ago/).waitFor();
  faults.length = 0;
  page.on('request', (request) => {
    if (request.method() !== 'GET') sent.push(`${request.method()} ${request.url()}`);
  });
}, 60_000);

afterAll(async () => {
  await browser.stop();
  await stand.stop();
  rmSync(folder, { recursive: true, force: true });
});

const choose = (path: string) => page.getByLabel('Drop a recording here, or choose one').setInputFiles(path);

test('a table: health, 1×, a bearing that speaks, its picture and the table beside it', async () => {
  await page.getByRole('link', { name: 'Intake' }).click();
  await page.getByRole('link', { name: 'Recording' }).click();
  await page.getByRole('heading', { level: 1, name: 'Recording' }).waitFor();
  await page.getByLabel('Speed of the shaft, rpm').fill('1800');
  await page.getByText('Bearings and bands by hand').click();
  await page.getByLabel('Bearings, one in each line').fill('drive end: 8 0.238 1 0');
  await page.getByLabel('Envelope from, Hz').fill('2000');
  await page.getByLabel('Envelope to, Hz').fill('6000');
  await choose(fileOf('bench.csv', asTable([UNBALANCED, OUTER_RACE], ['unbalanced', 'outer race'])));
  await page.getByRole('row', { name: /^1× 30\.1 Hz 24\.7 mm\/s/ }).waitFor();
  await page.getByRole('button', { name: 'outer race', exact: true }).click();
  await page.getByText(/^The outer race of the bearing drive end speaks/).waitFor();
  await page.getByRole('button', { name: 'envelope', exact: true }).click();
  await page.locator('wave-envelope line-plot svg').waitFor();
  await page.getByText('The same as a table: the strongest lines').click();
  await page.getByRole('cell', { name: /outer/ }).first().waitFor();
  expect(faults).toEqual([]);
});

test('the same as a WAV file: relative until its scale is told, then the same figures', async () => {
  await choose(fileOf('bench.wav', asWave([UNBALANCED], 24)));
  await page.getByText('How strong anything is: the file carries no unit').waitFor();
  await page.getByLabel('Full scale of a WAV file', { exact: true }).fill(String(FULL_SCALE_G));
  await page.getByRole('button', { name: 'Analyse' }).click();
  await page.getByRole('row', { name: /^Overall velocity RMS, 10 to 1,000 Hz 25\.0 mm\/s/ }).waitFor();
  await page.getByRole('row', { name: /^1× 30\.1 Hz 24\.7 mm\/s/ }).waitFor();
  expect(faults).toEqual([]);
});

test('nothing of either was sent', () => {
  expect(sent).toEqual([]);
});
