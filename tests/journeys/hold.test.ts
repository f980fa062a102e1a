// Journeys in a real browser on the whole service: sign in, a hold appears without a reload, is taken, checked, released.
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBrowser, type OpenBrowser } from '../environment/chromium.ts';
import { BUILD, load, result, SPINDLES } from '../whole/plant.ts';
import { sealed, startStand, type Stand, type StandClient } from '../whole/stand.ts';

const PASSWORD = 'a long one of the test';
const WITHIN_MS = 15_000;

let stand: Stand;
let browser: OpenBrowser;
let page: Page;
let bench: StandClient;
let machine: StandClient;

beforeAll(async () => {
  stand = await startStand({
    devices: [
      { device: 'bench-1', kind: 'bench' },
      { device: 'machine-1', kind: 'machine', serves: ['S-1'] },
    ],
    spindles: SPINDLES,
  });
  browser = await openBrowser();
  page = await browser.page({ viewport: { width: 1440, height: 900 } });
  page.setDefaultTimeout(WITHIN_MS);
  bench = await stand.device('bench-1');
  machine = await stand.device('machine-1');
}, 120_000);
afterAll(async () => {
  await bench?.stop();
  await machine?.stop();
  await browser?.stop();
  await stand?.stop();
});

const faults: string[] = [];

/** There, or there soon. */
async function expectText(text: RegExp | string): Promise<void> {
  await page.getByText(text).first().waitFor();
}

test('the first sign-in takes its token from the address and leaves none there', async () => {
  page.on('pageerror', (fault) => faults.push(fault.message));
  await page.goto(`${stand.url}/first-sign-in#token=${stand.firstToken()}`);
  await page.getByLabel('Your name').fill('eve');
  await page.getByLabel('A password of your own').fill(PASSWORD);
  expect(page.url()).not.toContain(stand.firstToken());
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('heading', { name: 'Floor', level: 1 }).waitFor();
  await expectText(/live \d+ s ago/);
});

test('a hold appears on the floor without a reload, within a second of its message', async () => {
  await bench.send('build', sealed('bench-1', 'build', BUILD));
  await bench.send('result', sealed('bench-1', 'result', result(6)));
  await expectText(/A-1 is on hold: its residual unbalance is 3\.\d times what is permissible at 18,000 rpm/);
  expect(await page.getByRole('link', { name: 'A-1' }).count()).toBeGreaterThan(0);
});

test('it is taken with two presses, and the page says who has it', async () => {
  await page.getByRole('link', { name: /Holds/ }).click();
  await page.getByRole('heading', { name: 'Holds', level: 1 }).waitFor();
  await page
    .getByRole('link', { name: /A-1 is on hold/ })
    .first()
    .click();
  await page.waitForURL(/\/holds\/H-/);
  await expectText('residual unbalance less its measuring error');
  await page
    .getByText(/Advisory only/)
    .first()
    .waitFor();
  await page.getByRole('button', { name: 'I have it' }).click();
  await page.getByRole('button', { name: /^Confirm/ }).click();
  await page.getByText(/eve/).nth(1).waitFor();
});

test('a release of an assembly is not a matter of saying so: it ends by a passing measurement', async () => {
  await page
    .getByText(/is measured again and is within its permissible residual at 18,000 rpm/)
    .first()
    .waitFor();
  await bench.send('result', sealed('bench-1', 'result', result(0.4, { stage: 'after-correction' })));
  await page
    .getByText(/released/)
    .first()
    .waitFor();
  await page.getByRole('link', { name: 'Floor' }).first().click();
  await page.getByRole('heading', { name: 'Floor', level: 1 }).waitFor();
  await expect.poll(() => page.getByRole('link', { name: 'A-1' }).count(), { timeout: WITHIN_MS }).toBe(0);
});

test('the gate answers in one word, names the governing speed, and never promises', async () => {
  await machine.send('load', sealed('machine-1', 'load', load(12_000)));
  await page.goto(`${stand.url}/gate?spindle=S-1&assembly=A-1&speed=12000`);
  await expectText('NO OBJECTION');
  await page
    .getByText(/govern/)
    .first()
    .waitFor();
  expect(await page.getByText(/\bsafe\b/i).count()).toBe(0);
});

test('a restart of the service under an open page: it says that it is not live, and recovers alone', async () => {
  await page.goto(`${stand.url}/floor`);
  await expectText(/live \d+ s ago/);
  const { port } = new URL(stand.url);
  await stand.restart(['--http-port', port]);
  await page.getByText(/live \d+ s ago/).waitFor({ timeout: 60_000 });
  expect(faults).toEqual([]);
}, 90_000);
