// A journey on the whole service in a real browser: 90 days of history, other limits tried on it, a hold opened to its clauses, put in force.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ACT_TYPES } from '../../shared/acts.ts';
import { deviceSource, personSource } from '../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../shared/messages/index.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR, rfc3339Of } from '../../shared/time.ts';
import { actTopic, inTopic } from '../../shared/topics.ts';
import { openBrowser, type OpenBrowser } from '../environment/chromium.ts';
import { startProgram } from '../environment/program.ts';
import { CLI, PLANT, startStand, type Stand } from '../whole/stand.ts';

const PASSWORD = 'a long one of the test';
const WITHIN_MS = 15_000;
const DAYS = 90;
const EVERY_MS = MILLISECONDS_AN_HOUR / 2;
/** For a day of their own each: over the limit that is declared, and over nine tenths of it. */
const OVER_DAY = 40;
const NEAR_DAY = 60;
const LIMIT_MMS = 2.8;

let stand: Stand;
let browser: OpenBrowser;
let page: Page;
const faults: string[] = [];

beforeAll(async () => {
  stand = await startStand({ devices: [] });
  await stand.program.stop();
  const file = join(stand.data, '..', 'history.jsonl');
  writeFileSync(file, `${[...history(Date.now() - DAYS * MILLISECONDS_A_DAY)].join('\n')}\n`);
  const imported = startProgram(process.execPath, {
    args: [CLI, 'import', file, '--plant', PLANT, '--data', stand.data],
  });
  const code = await imported.ended;
  if (code !== 0) throw new Error(`the import ended with ${code}: ${imported.output()}`);
  await stand.restart();
  browser = await openBrowser();
  page = await browser.page({ viewport: { width: 1440, height: 900 } });
  page.setDefaultTimeout(WITHIN_MS);
  page.on('pageerror', (fault) => faults.push(fault.message));
}, 180_000);
afterAll(async () => {
  await browser?.stop();
  await stand?.stop();
});

/** Two invented spindles, a reading each half hour. */
function* history(from: number): Generator<string> {
  const person = 'ada-invented';
  for (const spindleId of ['S-01', 'S-02']) {
    const limits = [
      { quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS: LIMIT_MMS, source: 'maker (invented)' },
    ];
    const data = { spindleId, machine: `mill ${spindleId}`, cell: 'milling', limits };
    const type = ACT_TYPES['spindle-declared'];
    const envelope = {
      specversion: '1.0',
      id: `d-${spindleId}`,
      source: personSource(PLANT, person),
      type,
      roles: 'engineer',
      data,
    };
    yield JSON.stringify({ topic: actTopic(PLANT, person), at: rfc3339Of(from), envelope });
  }
  for (let at = from + EVERY_MS, sequence = 1; at < from + DAYS * MILLISECONDS_A_DAY; at += EVERY_MS, sequence += 1) {
    const day = Math.floor((at - from) / MILLISECONDS_A_DAY);
    for (const spindleId of ['S-01', 'S-02']) {
      const device = `sensor-${spindleId}`;
      const wander = (sequence % 7) * 0.01;
      const raised = spindleId === 'S-01' && day === OVER_DAY ? 2 : spindleId === 'S-02' && day === NEAR_DAY ? 1.6 : 0;
      const data = { spindleId, speedRpm: 12_000, overallMmS: 1 + wander + raised, steady: true, cutting: false };
      const envelope = {
        specversion: '1.0',
        id: `${device}-${sequence}`,
        source: deviceSource(PLANT, device),
        type: MESSAGE_TYPES.summary,
        time: rfc3339Of(at),
        data,
      };
      yield JSON.stringify({ topic: inTopic(PLANT, device, 'summary'), at: rfc3339Of(at), envelope });
    }
  }
}

test('an engineer tries nine tenths of a limit on 90 days and sees what it would have held', async () => {
  await page.goto(`${stand.url}/first-sign-in#token=${stand.firstToken()}`);
  await page.getByLabel('Your name').fill('eve');
  await page.getByLabel('A password of your own').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByText(/live \d+ s ago/).waitFor();
  await page.getByRole('link', { name: 'Plant', exact: true }).click();
  await page.getByRole('link', { name: 'Try-out' }).click();
  await page.getByRole('button', { name: 'Add other limits' }).click();
  await page.getByRole('button', { name: 'Try it on the last 90 days' }).click();
  await page.getByText('1 hold as things are, 2 with the draft: 1 the same, 0 only now, 1 only then.').waitFor();
  expect(await page.locator('days-picture .only-then').count()).toBeGreaterThan(0);
  expect(faults).toEqual([]);
});

test('a hold opens to its clauses, those on record and those of the draft', async () => {
  const both = page.getByRole('row', { name: /^S-01 both/ });
  await both.getByText('Show').click();
  await both.getByText(/overall vibration velocity, RMS/).waitFor();
  await both.getByText(/against 2\.52 mm\/s RMS at 12,000\s+rpm/).waitFor();
  const then = page.getByRole('row', { name: /^S-02 only then/ });
  await then.getByText('Show').click();
  await then.getByText(/It would have been raised/).waitFor();
  expect(faults).toEqual([]);
});

test('more readings asked for are put in force with a reason, and stand as a version', async () => {
  await page.getByRole('button', { name: 'Take out row 1 of the limits' }).click();
  await page.getByRole('button', { name: 'Add a row of settings' }).click();
  await page.getByLabel('Readings over a limit').fill('8');
  await page.getByLabel('Readings over a limit').press('Tab');
  await page.getByText('new the whole plant: at least 8 readings over a limit').waitFor();
  await page.getByRole('button', { name: 'Put in force, with a reason' }).click();
  await page.getByLabel('Why', { exact: true }).fill('fewer holds at run-up');
  await page.getByRole('button', { name: 'Confirm: put in force' }).click();
  await page.getByRole('row', { name: /^1, draft in force/ }).waitFor();
  await page.reload();
  await page.getByRole('row', { name: /^1, draft in force/ }).waitFor();
  expect(faults).toEqual([]);
});
