// A journey on the whole service in a real browser, with the network taken away: installed, loaded without the service, an act
// that waits and is done once, and one that is taken back.
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { HoldView } from '../../shared/hold-view.ts';
import { openBrowser, type OpenBrowser } from '../environment/chromium.ts';
import { BUILD, result, SPINDLES } from '../whole/plant.ts';
import { sealed, startStand, type Stand, type StandClient } from '../whole/stand.ts';

const PASSWORD = 'a long one of the test';
const WITHIN_MS = 15_000;
/** A 10-inch tablet. */
const TABLET = { viewport: { width: 1280, height: 800 }, hasTouch: true, isMobile: true };

let stand: Stand;
let browser: OpenBrowser;
let page: Page;
let context: BrowserContext;
let bench: StandClient;
const faults: string[] = [];

beforeAll(async () => {
  stand = await startStand({ devices: [{ device: 'bench-1', kind: 'bench' }], spindles: SPINDLES });
  browser = await openBrowser();
  page = await browser.page(TABLET);
  context = page.context();
  page.setDefaultTimeout(WITHIN_MS);
  page.on('pageerror', (fault) => faults.push(fault.message));
  bench = await stand.device('bench-1');
}, 120_000);
afterAll(async () => {
  await bench?.stop();
  await browser?.stop();
  await stand?.stop();
});

const isLive = (): Promise<void> => page.getByText(/live \d+ s ago/).waitFor();
const onlyHold = async (): Promise<HoldView> => {
  const answer = await context.request.get(`${stand.url}/api/holds?state=all`);
  const [hold] = (await answer.json()) as HoldView[];
  return hold!;
};

/** What the browser keeps of us, by its cache's name. */
const kept = (): Promise<Record<string, string[]>> =>
  page.evaluate(async () => {
    const names = await caches.keys();
    const found = names.map(async (name) => {
      const requests = await (await caches.open(name)).keys();
      return [name, requests.map(({ url }) => new URL(url).pathname)] as const;
    });
    return Object.fromEntries(await Promise.all(found));
  });

test('it can be installed: a manifest that the browser finds nothing wrong with, and a worker that is at work', async () => {
  await page.goto(`${stand.url}/first-sign-in#token=${stand.firstToken()}`);
  await page.getByLabel('Your name').fill('eve');
  await page.getByLabel('A password of your own').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await isLive();
  const state = await page.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready;
    if (active !== null && active.state !== 'activated')
      await new Promise((done) => active.addEventListener('statechange', done));
    return { script: active?.scriptURL, state: active?.state };
  });
  expect(state).toEqual({ script: `${stand.url}/worker.js`, state: 'activated' });
  const devtools = await context.newCDPSession(page);
  const manifest = await devtools.send('Page.getAppManifest');
  expect(manifest.url).toBe(`${stand.url}/manifest.webmanifest`);
  expect(manifest.errors).toEqual([]);
  const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
  expect(installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')).toEqual([]);
});

test('what it keeps are files of the build, and nothing of the plant', async () => {
  await page.goto(`${stand.url}/holds`);
  await isLive();
  const caches = Object.entries(await kept());
  expect(caches).toHaveLength(1);
  const [name, paths] = caches[0]!;
  expect(name).toMatch(/^counterpoise-shell-[0-9a-f]{16}$/);
  expect(paths).toContain('/');
  expect(paths.filter((path) => path !== '/' && !path.startsWith('/assets/'))).toEqual([]);
});

test('without the service the shell comes all the same, says so, and goes on by itself; the gate says whom to ask', async () => {
  await context.setOffline(true);
  await page.goto(`${stand.url}/gate?spindle=S-1&assembly=A-1`);
  await page.getByRole('heading', { name: 'No connection' }).waitFor();
  await page.getByText('Ask the tool room.').waitFor();
  expect(await page.getByText('NO OBJECTION').count()).toBe(0);
  expect(await page.getByText('Nothing of the plant is kept on this device').count()).toBe(1);
  const api = await page.evaluate(() => fetch('/api/holds').then(({ status }) => String(status), String));
  expect(api).toContain('Failed to fetch');
  await context.setOffline(false);
  await page.getByRole('heading', { name: 'Gate' }).waitFor();
  await isLive();
});

test('an act that is pressed while the network is away waits, holds the page back, and is done once by itself', async () => {
  await bench.send('build', sealed('bench-1', 'build', BUILD));
  await bench.send('result', sealed('bench-1', 'result', result(6)));
  await expect.poll(async () => (await onlyHold())?.state, { timeout: WITHIN_MS }).toBe('raised');
  const { holdId } = await onlyHold();
  await page.goto(`${stand.url}/holds/${holdId}`);
  await isLive();
  await context.setOffline(true);
  await page.getByRole('button', { name: 'I have it' }).tap();
  await page.getByRole('button', { name: 'Confirm: I have it' }).tap();
  await page.getByText('Waiting, not sent yet.').waitFor();
  await page.getByText(/pressed\s+\d\d:\d\d:\d\d/).waitFor();
  expect((await page.getByRole('button', { name: 'Take it back' }).boundingBox())?.height).toBeGreaterThanOrEqual(118);
  expect(await page.getByRole('button', { name: 'I have it' }).count()).toBe(0);

  const asked = page.waitForEvent('dialog');
  const left = page.close({ runBeforeUnload: true });
  const dialog = await asked;
  expect(dialog.type()).toBe('beforeunload');
  await dialog.dismiss();
  await left;

  await context.setOffline(false);
  await page.getByText('Waiting, not sent yet.').waitFor({ state: 'detached' });
  await expect.poll(async () => (await onlyHold()).state, { timeout: WITHIN_MS }).toBe('taken');
  const { steps } = await onlyHold();
  expect(steps.map(({ state, by }) => `${state} ${by}`)).toEqual([expect.stringMatching(/^raised/), 'taken eve']);
});

test('an answer that is lost on its way is asked for again, and the act is done once', async () => {
  let tries = 0;
  // The service does it, and the browser hears nothing of it.
  await page.route('**/acts', async (route) => {
    tries += 1;
    await context.request.post(route.request().url(), {
      data: route.request().postDataJSON() as object,
      headers: { origin: stand.url },
    });
    if (tries === 1) await route.abort();
    else await route.continue();
  });
  await page.getByRole('button', { name: 'Checked' }).tap();
  await page.getByLabel('What I found').fill('a chip under the taper (invented)');
  await page.getByRole('button', { name: 'Confirm: Checked' }).tap();
  await page.getByText('Waiting, not sent yet.').waitFor();
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await page.getByText('Waiting, not sent yet.').waitFor({ state: 'detached' });
  expect(tries).toBe(2);
  expect((await onlyHold()).steps.map(({ state }) => state)).toEqual(['raised', 'taken', 'checked']);
  await page.unroute('**/acts');
});

test('what is taken back is not sent', async () => {
  await context.setOffline(true);
  await page.getByRole('button', { name: 'Raised in error' }).tap();
  await page.getByLabel('What was wrong with it').fill('nothing');
  await page.getByRole('button', { name: 'Confirm: Raised in error' }).tap();
  await page.getByText('Waiting, not sent yet.').waitFor();
  await page.getByRole('button', { name: 'Take it back' }).tap();
  await page.getByText('Waiting, not sent yet.').waitFor({ state: 'detached' });
  await context.setOffline(false);
  await isLive();
  await page.reload();
  await isLive();
  expect((await onlyHold()).state).toBe('checked');
  expect(faults).toEqual([]);
});
