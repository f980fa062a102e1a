// What Holds and Gate do without a connection, and what comes of an act that waited: refused with its reason, or asked again.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { HoldView } from '../../shared/hold-view.ts';
import type { FixtureServer } from './fixture-server.ts';
import { axeFindings, openScreen, TABLET, type OpenPage, type Screen } from './screen.ts';

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
async function pressedAway(act: string, field: string, at = plant): Promise<OpenPage> {
  const page = await screen.open(at, `/holds/${HOLD_ID}`, TABLET);
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

const asksBefore = (page: OpenPage) => page.getByRole('dialog');

test.each([
  [
    'en-GB',
    'Sign out',
    'Stay signed in',
    'Sign out, send nothing',
    '1 act waits for the connection. What waits would not be sent',
  ],
  [
    'de-DE',
    'Abmelden',
    'Angemeldet bleiben',
    'Abmelden, nichts senden',
    '1 Handlung wartet auf die Verbindung. Was wartet, würde nicht gesendet',
  ],
])('signing out asks first while an act waits, and sends none of it (%s)', async (locale, out, stay, leave, words) => {
  const own = await screen.plant({ spindles: 12 });
  const page = await screen.open(own, `/holds/${HOLD_ID}`, { ...TABLET, locale });
  const sent: unknown[] = [];
  await page.route('**/acts', (route) => route.abort());
  await page.locator('hold-acts button').first().tap();
  await page.locator('hold-acts button.first').tap();
  await page.locator('waiting-acts li').waitFor();
  await page.unroute('**/acts');
  page.on('request', (request) => void (request.url().endsWith('/acts') && sent.push(request.postDataJSON())));

  await page.getByRole('button', { name: out, exact: true }).tap();
  await asksBefore(page).getByText(words).waitFor();
  await asksBefore(page).getByText(HOLD_ID).waitFor();
  expect(
    await asksBefore(page)
      .getByRole('button', { name: stay })
      .evaluate((button) => button.matches(':focus')),
  ).toBe(true);
  expect(await axeFindings(page)).toEqual([]);
  await asksBefore(page).getByRole('button', { name: stay }).tap();
  await asksBefore(page).waitFor({ state: 'detached' });
  expect(await page.locator('waiting-acts li').count()).toBe(1);

  await page.getByRole('button', { name: out, exact: true }).tap();
  await asksBefore(page).getByRole('button', { name: leave }).tap();
  await page.locator('sign-in-page').waitFor();
  await page.locator('sign-in-page input').first().fill('e-saar');
  await page.locator('sign-in-page input[type=password]').fill('right');
  await page.locator('sign-in-page button').first().tap();
  await page.getByText(/^(?:live \d+ s ago|aktuell vor \d+ s)$/).waitFor();
  expect(await page.locator('waiting-acts li').count()).toBe(0);
  expect(sent).toEqual([]);
  expect(page.faults).toEqual([]);
  await page.context().close();
});

test('without the service nobody is signed out, and that is said; nothing that waits is lost by it', async () => {
  const page = await pressedAway('Checked', 'What I found', await screen.plant({ spindles: 12 }));
  await page.getByRole('button', { name: 'Sign out', exact: true }).tap();
  await asksBefore(page).getByRole('button', { name: 'Sign out, send nothing' }).tap();
  await asksBefore(page).getByText('so e-saar could not be signed out').waitFor();
  await asksBefore(page).getByRole('button', { name: 'I have read it' }).tap();
  expect(await page.getByText('Waiting, not sent yet.').count()).toBe(1);
  await page.getByRole('button', { name: 'Take it back' }).tap();
  await page.context().close();
});
