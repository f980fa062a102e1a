// A journey on the whole service in a real browser: the first minutes of a plant. Devices are enrolled on the page, the very commands
// that it shows are run in a shell, and the page says when the first message has come.
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBrowser, type OpenBrowser } from '../environment/chromium.ts';
import { findProgram } from '../environment/program.ts';
import { startStand, type Stand } from '../whole/stand.ts';

const PASSWORD = 'a long one of the test';
const WITHIN_MS = 15_000;
const run = promisify(execFile);

let stand: Stand;
let browser: OpenBrowser;
let page: Page;
const faults: string[] = [];

beforeAll(async () => {
  findProgram('mosquitto_pub');
  findProgram('mosquitto_rr');
  stand = await startStand({ devices: [] });
  browser = await openBrowser();
  page = await browser.page({ viewport: { width: 1440, height: 900 } });
  page.setDefaultTimeout(WITHIN_MS);
  page.on('pageerror', (fault) => faults.push(fault.message));
  await page.goto(`${stand.url}/first-sign-in#token=${stand.firstToken()}`);
  await page.getByLabel('Your name').fill('eve');
  await page.getByLabel('A password of your own').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByText(/live \d+ s ago/).waitFor();
}, 60_000);

afterAll(async () => {
  await browser.stop();
  await stand.stop();
});

/** As it stands on the page, pasted into a shell. */
async function runShown(what: string): Promise<string> {
  const command = await page.getByRole('group', { name: what, exact: true }).textContent();
  const { stdout } = await run('/bin/sh', ['-c', command ?? 'false']);
  return stdout;
}

async function enrol(kind: string, name: string, serves?: string): Promise<void> {
  await page.getByRole('button', { name: kind, exact: true }).click();
  await page.getByLabel('Its name').fill(name);
  if (serves !== undefined) await page.getByLabel(/^The spindles? it/).fill(serves);
  await page.getByRole('button', { name: 'Enrol, and make its secret' }).click();
  await page.getByText(`Nothing of ${name} has been heard yet.`).waitFor();
}

const hasArrived = (name: string) =>
  page.getByText(new RegExp(`^The first message of ${name} has arrived, \\d\\d:\\d\\d:\\d\\d\\.$`)).waitFor();

test('an empty floor leads to the plant, which begins with connecting', async () => {
  await page.getByRole('link', { name: 'Connect the first devices' }).click();
  await page.getByRole('heading', { name: 'First minutes: connect a sensor, a machine, a bench' }).waitFor();
  await page.getByText('No device is enrolled.').waitFor();
  expect(faults).toEqual([]);
});

test('a sensor: its birth is told, its first reading brings its spindle', async () => {
  await enrol('Sensor', 'sensor-7', 'S-07');
  await runShown('command 1');
  await hasArrived('sensor-7');
  await runShown('command 2');
  await page.getByRole('row', { name: /not declared S-07 .* sensor-7/ }).waitFor();
  await page.getByRole('button', { name: 'Done; connect another one' }).click();
  expect(faults).toEqual([]);
});

test('a machine', async () => {
  await enrol('Machine', 'machine-3', 'S-07, S-08');
  await runShown('command 1');
  await hasArrived('machine-3');
  await runShown('command 2');
  await page.getByRole('button', { name: 'Done; connect another one' }).click();
  expect(faults).toEqual([]);
});

test('a bench: its build is answered by a receipt', async () => {
  await enrol('Bench', 'bench-1');
  await runShown('command 1');
  await hasArrived('bench-1');
  expect(JSON.parse(await runShown('command 2'))).toMatchObject({ data: { channel: 'build', outcome: 'kept' } });
  await page.getByRole('button', { name: 'Done; connect another one' }).click();
  expect(faults).toEqual([]);
});

test('nothing of it was refused, and what was sent once may be sent again', async () => {
  const intake = await page.evaluate(async () => (await fetch('/api/intake')).json() as Promise<unknown>);
  expect(intake).toMatchObject({ rejectsOpen: 0 });
});

test('another secret, and an end to a device: a second press does it', async () => {
  await page.getByRole('button', { name: 'New secret for sensor-7' }).click();
  await page.getByRole('button', { name: 'Confirm: new secret for sensor-7' }).click();
  await page.getByText('The new secret of sensor-7, shown this once.').waitFor();
  await page.getByRole('row', { name: /^sensor-7 sensor S-07 .* 2 / }).waitFor();
  await page.getByRole('button', { name: 'Revoke sensor-7' }).click();
  await page.getByRole('button', { name: 'Confirm: revoke sensor-7' }).click();
  await page.getByRole('row', { name: /^sensor-7 .* revoked/ }).waitFor();
  expect(faults).toEqual([]);
});

test('a person is invited, and gets in by the link that is shown once', async () => {
  await page.getByRole('button', { name: 'Invite somebody' }).click();
  await page.getByLabel('Name, of letters, digits and hyphens').fill('m-okafor');
  await page.getByRole('checkbox', { name: /^maintenance/ }).check();
  await page.getByRole('button', { name: 'Confirm: invite' }).click();
  const link = await page.getByRole('group', { name: 'the link for m-okafor' }).textContent();
  const other = await browser.page({ viewport: { width: 1280, height: 800 } });
  await other.goto(link ?? '');
  await other.getByLabel('Your name').fill('m-okafor');
  await other.getByLabel('A password of your own').fill(`${PASSWORD}, another`);
  await other.getByRole('button', { name: 'Sign in' }).click();
  await other.getByText(/live \d+ s ago/).waitFor();
  await other.goto(`${stand.url}/plant`);
  await other.getByText('A device is enrolled by somebody with the role administrator.').waitFor();
  await other.close();
  await page.getByRole('button', { name: 'Disable m-okafor' }).click();
  await page.getByRole('button', { name: 'Confirm: disable m-okafor' }).click();
  await page.getByRole('row', { name: /^m-okafor disabled/ }).waitFor();
  expect(faults).toEqual([]);
});

test('a spindle is declared, and not a second time over what is declared', async () => {
  const declare = async (maximum: string): Promise<void> => {
    await page.getByRole('button', { name: 'Declare a spindle' }).click();
    await page.getByLabel('Spindle', { exact: true }).fill('S-07');
    await page.getByLabel('Machine', { exact: true }).fill('Mill 3');
    await page.getByLabel('Cell', { exact: true }).fill('cell-2');
    await page.getByLabel('Maximum speed of the maker, rpm, if known').fill(maximum);
    await page.getByRole('button', { name: 'Confirm: declare the spindle' }).click();
  };
  await declare('24000');
  await page.getByRole('row', { name: /^cell-2 S-07 Mill 3 .* 24,000 rpm none sensor-7/ }).waitFor();
  await declare('30000');
  await page.getByText('S-07 is declared already: what is declared of it would be lost.').waitFor();
  expect(faults).toEqual([]);
});
