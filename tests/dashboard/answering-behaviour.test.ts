// Who is told when nobody answers, as somebody uses it: read, changed, refused in place, put on record, by hand and by keyboard.
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import type { Role } from '../../shared/rights.ts';
import { axeFindings, DESK, openScreen, overflow, TABLET, UPRIGHT, type OpenPage, type Screen } from './screen.ts';

const ADDRESS = '/holds?list=answering';

let screen: Screen;
let pages: OpenPage[] = [];
beforeAll(async () => {
  screen = await openScreen();
});
afterEach(async () => {
  for (const page of pages) await page.context().close();
  pages = [];
});
afterAll(() => screen.close());

async function open(options = DESK, roles: readonly Role[] = ['engineer']): Promise<OpenPage> {
  const page = await screen.open(await screen.plant({ spindles: 5, roles }), ADDRESS, options);
  pages.push(page);
  await page.getByRole('columnheader', { name: 'Who is told then' }).waitFor();
  return page;
}

const inForce = (page: OpenPage) => page.getByRole('table').first().getByRole('row');
const minutes = (page: OpenPage, level: number, answer: string) =>
  page.getByRole('textbox', { name: `Level ${level}, answer ${answer}: minutes without one` });
const told = (page: OpenPage, level: number, role: string) =>
  page.getByRole('group', { name: `Level ${level}: who is told` }).getByRole('checkbox', { name: role });

test('what is in force is read as a table, found from the open holds', async () => {
  const page = await screen.open(await screen.plant({ spindles: 5, roles: ['viewer'] }), '/holds', DESK);
  pages.push(page);
  await page.getByRole('link', { name: 'when nobody answers' }).click();
  await page.getByRole('heading', { name: 'Who is told when nobody answers' }).waitFor();
  await expect
    .poll(() => inForce(page).nth(2).innerText())
    .toMatch(/Level 1\s+15 min\s+2 h\s+1 d\s+maintenance, tool room/);
  expect(await inForce(page).nth(3).innerText()).toMatch(/Level 2\s+1 h\s+8 h\s+3 d\s+plant engineer/);
  await page.getByText('A deviation needs two names').waitFor();
  await page.getByText('As the program comes: common practice, no source.').waitFor();
  expect(new URL(page.url()).search).toBe('?list=answering');
  expect(page.faults).toEqual([]);
});

test.each<[Role]>([['viewer'], ['operator'], ['tool-room'], ['maintenance']])(
  'as %s it is read and not changed, and says who changes it',
  async (role) => {
    const page = await open(DESK, [role]);
    await page.getByText('Changed by: plant engineer or administrator.').waitFor();
    expect(await page.getByRole('button', { name: 'Change who is told' }).count()).toBe(0);
  },
);

test.each<[Role]>([['engineer'], ['admin']])('changed by %s with a reason, and read so from then on', async (role) => {
  const page = await open(DESK, [role]);
  await page.getByRole('button', { name: 'Change who is told' }).click();
  const send = page.getByRole('button', { name: 'Put it on record' });
  expect(await send.isDisabled()).toBe(true);
  await minutes(page, 1, 'at once').fill('10');
  await minutes(page, 2, 'this shift').fill('500');
  await page.getByText('8 h 20 min').waitFor();
  await told(page, 1, 'operator').check();
  await told(page, 1, 'tool room').uncheck();
  await page.getByRole('button', { name: 'Add a level' }).click();
  await told(page, 3, 'administrator').check();
  await page.getByLabel('A deviation needs').selectOption('one name');
  await page.getByLabel('Why it is to be so').fill('nights are thinly manned');
  await send.click();
  await page.getByText(/Declared by e-saar, \d\d:\d\d: Nights are thinly manned\./).waitFor();
  expect(await inForce(page).nth(2).innerText()).toMatch(/Level 1\s+10 min\s+2 h\s+1 d\s+operator, maintenance$/);
  expect(await inForce(page).nth(3).innerText()).toMatch(/Level 2\s+1 h\s+8 h 20 min\s+3 d\s+plant engineer/);
  expect(await inForce(page).nth(4).innerText()).toMatch(/Level 3\s+2 h\s+16 h 40 min\s+6 d\s+administrator/);
  await page.getByText('A deviation needs one name').waitFor();
  expect(await send.count()).toBe(0);
  expect(page.faults).toEqual([]);
});

test('what the service refuses is said in place, and what was typed stays', async () => {
  const page = await open();
  await page.getByRole('button', { name: 'Change who is told' }).click();
  await minutes(page, 2, 'at once').fill('15');
  await page.getByLabel('Why it is to be so').fill('sooner');
  await page.getByRole('button', { name: 'Put it on record' }).click();
  const refusal = page.getByRole('alert');
  await refusal.getByText(/Expected each level to wait longer than the one before it, at every priority\.$/).waitFor();
  expect(await refusal.innerText()).not.toMatch(/body/);
  expect(await minutes(page, 2, 'at once').inputValue()).toBe('15');
  expect(await axeFindings(page)).toEqual([]);
  await minutes(page, 2, 'at once').fill('16');
  await page.getByRole('button', { name: 'Put it on record' }).click();
  await page.getByText(/Declared by e-saar/).waitFor();
  expect(await inForce(page).nth(3).innerText()).toMatch(/Level 2\s+16 min/);
});

test.each(['', '0', '20161', '1.5'])('“%s” is no wait: the field says so and nothing is sent', async (typed) => {
  const page = await open();
  await page.getByRole('button', { name: 'Change who is told' }).click();
  await page.getByLabel('Why it is to be so').fill('tried');
  await minutes(page, 1, 'when it is planned').fill(typed);
  await page.getByRole('button', { name: 'Put it on record' }).click();
  const wrong = await minutes(page, 1, 'when it is planned').evaluate((field) => field.matches(':focus:invalid'));
  expect(wrong).toBe(true);
  expect(await page.getByText('As the program comes').count()).toBe(1);
});

test('a level that tells nobody is named, and the keyboard stands where it is mended', async () => {
  const page = await open();
  await page.getByRole('button', { name: 'Change who is told' }).click();
  await told(page, 2, 'plant engineer').uncheck();
  await page.getByLabel('Why it is to be so').fill('tried');
  await page.getByRole('button', { name: 'Put it on record' }).click();
  await page.getByRole('alert').getByText('Level 2 tells nobody: tick who is told, or take it out.').waitFor();
  expect(await told(page, 2, 'viewer').evaluate((box) => box.matches(':focus'))).toBe(true);
});

test('at most five levels, and none is said for what it is', async () => {
  const page = await open();
  await page.getByRole('button', { name: 'Change who is told' }).click();
  const add = page.getByRole('button', { name: 'Add a level' });
  for (let level = 3; level <= 5; level += 1) await add.click();
  expect(await add.isDisabled()).toBe(true);
  for (let level = 5; level >= 1; level -= 1)
    await page.getByRole('button', { name: `Take out level ${level}` }).click();
  await page.getByText('No level: of a hold that nobody answers nobody else is told.').waitFor();
  await page.getByLabel('Why it is to be so').fill('a round looks at every hold');
  await page.getByRole('button', { name: 'Put it on record' }).click();
  await page.getByText('No level is declared').waitFor();
});

test('by the keyboard alone: opened, typed, ticked, left, and on from where it was opened', async () => {
  const page = await open();
  const opener = page.getByRole('button', { name: 'Change who is told' });
  await opener.press('Enter');
  const first = minutes(page, 1, 'at once');
  await expect.poll(() => first.evaluate((field) => field.matches(':focus'))).toBe(true);
  await page.keyboard.press('ControlOrMeta+A');
  await page.keyboard.type('20');
  for (let field = 0; field < 3; field += 1) await page.keyboard.press('Tab');
  await page.keyboard.press('Space');
  expect(await told(page, 1, 'viewer').isChecked()).toBe(true);
  await page.getByLabel('Why it is to be so').focus();
  await page.keyboard.type('more eyes');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await page.getByText('More eyes.').waitFor();
  expect(await inForce(page).nth(2).innerText()).toMatch(/Level 1\s+20 min[\s\S]*viewer, tool room, maintenance/);
  await expect.poll(() => opener.evaluate((button) => button.matches(':focus'))).toBe(true);
  await opener.press('Enter');
  await page.getByRole('button', { name: 'Leave it' }).press('Enter');
  await expect.poll(() => opener.evaluate((button) => button.matches(':focus'))).toBe(true);
});

test('whoever asks for a deviation is told what it does with so many names as were declared', async () => {
  const server = await screen.plant({ spindles: 12, roles: ['engineer'] });
  const page = await screen.open(server, '/holds/H-4377-1', DESK);
  pages.push(page);
  const ask = page.getByRole('button', { name: 'Ask for a deviation', exact: true });
  await ask.click();
  await page.getByText('once another person has put a name to it as well; both names').waitFor();
  await ask.click();
  const declared = { levels: [], deviationNames: 1, note: 'a small plant' };
  expect((await page.request.put(`${server.address}/api/answering`, { data: declared })).status()).toBe(200);
  await ask.click();
  await page.getByText('The hold ends at once, on your name alone').waitFor();
  expect(page.faults).toEqual([]);
});

test.each([
  ['light', { ...DESK, colorScheme: 'light' }],
  ['dark', { ...DESK, colorScheme: 'dark' }],
  ['on a tablet', TABLET],
  ['on a tablet held upright', UPRIGHT],
] as const)('open with five levels, %s: read by a reader, nothing beyond the edge', async (_, options) => {
  const page = await open(options);
  await page.getByRole('button', { name: 'Change who is told' }).click();
  for (let level = 3; level <= 5; level += 1) await page.getByRole('button', { name: 'Add a level' }).click();
  expect(await axeFindings(page)).toEqual([]);
  expect(await overflow(page)).toBeLessThanOrEqual(0);
  const hidden = await page
    .locator('answering-form .scrolls')
    .evaluate((box) => Math.max(0, box.scrollWidth - box.clientWidth));
  expect(hidden).toBe(0);
  expect(page.faults).toEqual([]);
});

test('on paper stands what is in force, not what is being typed', async () => {
  const page = await open();
  await page.getByRole('button', { name: 'Change who is told' }).click();
  await page.setViewportSize({ width: 688, height: 972 });
  await page.emulateMedia({ media: 'print' });
  expect(await inForce(page).nth(2).isVisible()).toBe(true);
  expect(await minutes(page, 1, 'at once').isVisible()).toBe(false);
  expect(await overflow(page)).toBeLessThanOrEqual(1);
});
