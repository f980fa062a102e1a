// What Holds and Gate do without a connection, and what comes of an act that waited: refused with its reason, or asked again.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { HoldView } from '../../shared/hold-view.ts';
import type { FixtureServer } from './fixture-server.ts';
import { openScreen, TABLET, type OpenPage, type Screen } from './screen.ts';

const HOLD_ID = 'H-4377-1';

let screen: Screen;
let plant: FixtureServer;
beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
});
afterAll(() => screen.close());

const isLive = (page: OpenPage): Promise<void> => page.getByText(/^live \d+ s ago$/).waitFor();

test('the gate takes an old answer away, says whom to ask and since when, and asks anew by itself', async () => {
  const page = await screen.open(plant, '/gate?spindle=S-03&assembly=A-0105', TABLET);
  await page.getByText('NO OBJECTION').waitFor();
  await isLive(page);
  plant.stopFeed();
  await page.getByText('Ask the tool room').waitFor();
  await page.getByText(/There is no connection since \d\d:\d\d:\d\d/).waitFor();
  await page.getByText(/Not live: this is the plant as it was at \d\d:\d\d:\d\d/).waitFor();
  expect(await page.getByText('NO OBJECTION').count()).toBe(0);
  plant.resumeFeed();
  await page.getByText('NO OBJECTION').waitFor();
  expect(page.faults).toEqual([]);
  await page.context().close();
});

/** Presses an act while the network is away. */
async function pressedAway(act: string, field: string): Promise<OpenPage> {
  const page = await screen.open(plant, `/holds/${HOLD_ID}`, TABLET);
  await isLive(page);
  await page.context().setOffline(true);
  await page.getByRole('button', { name: act, exact: true }).tap();
  await page.getByLabel(field).fill('a chip under the taper (invented)');
  await page.getByRole('button', { name: `Confirm: ${act}` }).tap();
  await page.getByText('Waiting, not sent yet.').waitFor();
  return page;
}

test('what is refused when it is sent at last stands there with its reason until it was read', async () => {
  const page = await pressedAway('Checked', 'What I found');
  const problem = { type: 'about:blank', title: 'It was refused.', detail: 'the hold has ended', status: 409 };
  await page.route('**/acts', (route) => route.fulfill({ status: 409, json: problem }));
  await page.context().setOffline(false);
  await page.getByText('Refused, nothing was done.').waitFor();
  await page.getByText('It was refused. the hold has ended').waitFor();
  await page.getByRole('link', { name: 'Floor' }).tap();
  await page.getByRole('heading', { name: 'Floor' }).waitFor();
  await page.getByRole('button', { name: 'I have read it' }).tap();
  expect(await page.locator('waiting-acts section').count()).toBe(0);
  await page.context().close();
});

test('a release was meant for the hold as it was: where that has changed, its person looks again', async () => {
  const page = await pressedAway('Maintenance release', 'What was done, and what shows that it helped');
  const address = `${plant.address}/api/holds/${HOLD_ID}`;
  const before = (await (await page.context().request.get(address)).json()) as HoldView;
  const step = { state: 'checked', at: before.changedAt + 1, by: 'b-rund', cause: 99 } as const;
  await page.route(address, (route) => route.fulfill({ json: { ...before, steps: [...before.steps, step] } }));
  const sent: unknown[] = [];
  page.on('request', (request) => void (request.method() === 'POST' && sent.push(request.postDataJSON())));
  await page.context().setOffline(false);
  await page.getByText('Not sent: the hold has changed since.').waitFor();
  expect(sent).toEqual([]);
  await page.unroute(address);
  await page.getByRole('button', { name: 'Send it all the same' }).tap();
  await page.locator('waiting-acts section').waitFor({ state: 'detached' });
  expect(sent).toMatchObject([{ act: 'release', actId: expect.stringMatching(/^[0-9a-f]{32}$/) as string }]);
  await page.context().close();
});
