// The questions that pages answer, asked in a real browser on the whole service: may it run here, what does the bench say, how does the
// spindle answer, what came that could not be used, what is given away. What has a journey of its own (holds, causes, corrections,
// recordings, try-outs) is not asked again.
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
let sensor: StandClient;
const faults: string[] = [];

beforeAll(async () => {
  stand = await startStand({
    devices: [
      { device: 'bench-1', kind: 'bench' },
      { device: 'machine-1', kind: 'machine', serves: ['S-1', 'S-2'] },
      { device: 'sensor-S-1', kind: 'sensor', serves: ['S-1'] },
    ],
    spindles: SPINDLES,
  });
  browser = await openBrowser();
  page = await browser.page({ viewport: { width: 1440, height: 900 } });
  page.setDefaultTimeout(WITHIN_MS);
  page.on('pageerror', (fault) => faults.push(fault.message));
  bench = await stand.device('bench-1');
  machine = await stand.device('machine-1');
  sensor = await stand.device('sensor-S-1');
  await page.goto(`${stand.url}/first-sign-in#token=${stand.firstToken()}`);
  await page.getByLabel('Your name').fill('eve');
  await page.getByLabel('A password of your own').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('heading', { name: 'Floor', level: 1 }).waitFor();
}, 120_000);
afterAll(async () => {
  await Promise.all([bench?.stop(), machine?.stop(), sensor?.stop()]);
  await browser?.stop();
  await stand?.stop();
});

const heading = (name: string): Promise<void> => page.getByRole('heading', { name, level: 1 }).waitFor();
const expectText = (text: RegExp | string): Promise<void> => page.getByText(text).first().waitFor();

test('Gate: may I run this here? The ids as a scanner types them; the answer changes when a result arrives', async () => {
  await bench.send('build', sealed('bench-1', 'build', BUILD));
  await page.getByRole('link', { name: 'Gate' }).click();
  await heading('Gate');
  for (const id of ['S-1', 'A-1']) {
    await page.keyboard.type(id);
    await page.keyboard.press('Enter');
  }
  await expectText('MEASURE FIRST');
  await page.waitForURL(/spindle=S-1&assembly=A-1/);
  await bench.send('result', sealed('bench-1', 'result', result(0.4)));
  await page.goto(`${stand.url}/gate?spindle=S-1&assembly=A-1&speed=12000`);
  await expectText('NO OBJECTION');
  await expectText(/govern/);
});

test('Tool room: results stand there as they arrive', async () => {
  await page.getByRole('link', { name: 'Tool room' }).click();
  await heading('Tool room');
  await page.getByRole('link', { name: 'A-1' }).first().waitFor();
  await bench.send('build', sealed('bench-1', 'build', { ...BUILD, assemblyId: 'A-2', buildId: 'B-2' }));
  await bench.send('result', sealed('bench-1', 'result', result(0.6, { assemblyId: 'A-2', buildId: 'B-2' })));
  await page.getByRole('link', { name: 'A-2' }).first().waitFor();
  expect(faults).toEqual([]);
});

test('Assembly: what is its balance, up to what speed? Found by its id, and Back comes back', async () => {
  await page.getByRole('searchbox').or(page.getByPlaceholder('find or scan an id')).first().fill('A-2');
  await page.keyboard.press('Enter');
  await page.waitForURL(/\/assembly\/A-2$/);
  await expectText(/0\.60/);
  await expectText('Residual unbalance of this build');
  await page.goBack();
  await heading('Tool room');
});

test('Floor, and its spindle: what is in it and how it runs, down to the raw message', async () => {
  await machine.send('load', sealed('machine-1', 'load', load(12_000)));
  for (const synchronousMmS of [0.4, 0.42, 0.41, 0.43]) {
    const reading = { speedRpm: 12_000, overallMmS: 0.9, synchronousMmS, cutting: false, steady: true };
    await sensor.publish('summary', sealed('sensor-S-1', 'summary', reading));
  }
  await page.getByRole('link', { name: 'Floor' }).first().click();
  await heading('Floor');
  await expectText(/A-1/);
  await page.getByRole('link', { name: 'S-1' }).first().click();
  await page.waitForURL(/\/spindle\/S-1/);
  await heading('S-1');
  await expectText(/12,000 rpm/);
  await expectText('invented machine of S-1');
});

test('Intake: what arrived that could not be used, with the reason; read again it is no better', async () => {
  const wrong = { speedRpm: -5, overallMmS: 'loud' };
  await sensor.send('summary', sealed('sensor-S-1', 'summary', wrong));
  await page.getByRole('link', { name: 'Intake' }).first().click();
  await heading('Intake');
  await expectText('/data/speedRpm');
  await expectText(/expected a number from 0 to 10000/);
  await page.getByText('sensor-S-1').first().waitFor();
});

test('Headroom: what is given away, nothing where nothing is known, and no money without a rate', async () => {
  await page.getByRole('link', { name: 'Ahead' }).click();
  await heading('Ahead');
  await page.getByRole('navigation', { name: 'Parts of this place' }).getByRole('link', { name: 'Headroom' }).click();
  await heading('Headroom');
  await expectText(/no money/);
});

test('Plants: this one alone, and how others are named', async () => {
  await page.getByRole('link', { name: 'Plant', exact: true }).click();
  await page.getByRole('navigation', { name: 'Parts of this place' }).getByRole('link', { name: 'Plants' }).click();
  await heading('Plants');
  await expectText(/groupFile/);
});

test('in German by one choice, at the same address', async () => {
  await page.getByLabel('Language').selectOption('de');
  await heading('Werke');
  expect(page.url()).toMatch(/\/plants$/);
  await page.getByLabel('Sprache').selectOption('en');
  await heading('Plants');
  expect(faults).toEqual([]);
});
