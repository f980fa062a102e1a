// The page of a recording in a browser: chosen or dropped, in words, tables and pictures; refused by its lines; nothing is sent.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { FixtureServer } from '../fixture-server.ts';
import { axeFindings, DESK, openScreen, overflow, TABLET, UPRIGHT, type OpenPage, type Screen } from '../screen.ts';
import { asTable, asWave } from '../../shared/recorded-file/measured-recording.ts';
import { noiseOf, waveFile } from '../../shared/recorded-file/written-file.ts';

const UNBALANCED = '1800_GoB_GS_VHIL_WA_00lb_x.f32';
const OUTER_RACE = '1800_HOR_GS_BaLo_WA_00lb_x.f32';
const NO_COMPLAINT = 'Nothing was seen in the signal of front';
/** Whatever is pressed has at least this height. */
const PRESSED_PX = 44;

const folder = mkdtempSync(join(tmpdir(), 'recording-'));
const fileOf = (name: string, content: string | Uint8Array): string => {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
};
const TABLE = fileOf('two.csv', asTable([UNBALANCED, OUTER_RACE], ['front', 'rear']));
const WAVE = fileOf('front.wav', asWave([UNBALANCED], 24));
const BROKEN = fileOf('broken.csv', `time;a [g]\n${'0.1;1\n'.repeat(10)}0.2;overload\n0.3;1\n`);

let screen: Screen;
let plant: FixtureServer;
let page: OpenPage;

beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
});
afterAll(async () => {
  await screen.close();
  rmSync(folder, { recursive: true, force: true });
});
afterEach(async () => {
  await page.context().close();
});

const open = async (options = DESK): Promise<void> => {
  page = await screen.open(plant, '/recording', options);
};
const choose = (path: string) => page.getByLabel('Drop a recording here, or choose one').setInputFiles(path);

describe('a table', () => {
  test('in words, tables and pictures; each channel; nothing of it leaves the browser', async () => {
    await open();
    const sent: string[] = [];
    page.on('request', (request) => {
      if (request.method() !== 'GET' || request.postData() !== null) sent.push(request.url());
    });
    await page.getByLabel('Speed of the shaft, rpm').fill('1800');
    await page.getByLabel('Teeth of the cutter').fill('3');
    await choose(TABLE);
    await page.getByText(NO_COMPLAINT).waitFor();
    await page.getByRole('row', { name: /Overall velocity RMS, 10 to 1,?000 Hz 25\.0 mm\/s/ }).waitFor();
    await page.getByRole('row', { name: /^1× 30\.1 Hz 24\.7 mm\/s/ }).waitFor();
    await page.getByRole('row', { name: /^Tooth passing, 3×/ }).waitFor();
    await page.getByText('Whether it is permitted: no limit of the machine’s maker is known here.').waitFor();
    await page.locator('line-plot svg').first().waitFor();
    await page.getByRole('button', { name: 'rear', exact: true }).click();
    await page.getByText('Nothing was seen in the signal of rear').waitFor();
    await page.getByRole('row', { name: /Overall velocity RMS, .* 2\.12 mm\/s/ }).waitFor();
    expect(sent).toEqual([]);
    expect(page.faults).toEqual([]);
  });

  test('dropped on the page, of two files the first, with a bearing by hand: its damaged outer race speaks', async () => {
    await open();
    await page.getByLabel('Speed of the shaft, rpm').fill('1800');
    await page.getByText('Bearings and bands by hand').click();
    await page.getByLabel('Bearings, one in each line').fill('drive end: 8 0.238 1 0');
    const table = asTable([OUTER_RACE], ['front']);
    const data = await page.evaluateHandle((text) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([text], 'rear.csv', { type: 'text/csv' }));
      transfer.items.add(new File(['1'], 'other.csv', { type: 'text/csv' }));
      return transfer;
    }, new TextDecoder().decode(table));
    await page.locator('.drop').dispatchEvent('drop', { dataTransfer: data });
    await page.getByText(/^The outer race of the bearing drive end speaks: 91\.\d Hz/).waitFor();
    await page.getByText('One at a time').waitFor();
    expect(page.faults).toEqual([]);
  });

  test('bearings as declared of a spindle of the plant, taken before the file or after', async () => {
    await open();
    await choose(TABLE);
    await page.getByText('Which bearing: none is told').waitFor();
    await page.getByLabel('Bearings and bands of').selectOption('S-10');
    await page.getByText(/^S-10: front/).waitFor();
    await page
      .getByText(/of the bearing front/)
      .first()
      .waitFor();
    expect(await page.getByText('Which bearing: none is told').count()).toBe(0);
    expect(page.faults).toEqual([]);
  });

  test('what cannot be read is said by its line, what was typed wrongly by its field', async () => {
    await open();
    await choose(BROKEN);
    await page.getByText('line 12: column 2, a: expected a number; came "overload"').waitFor();
    await page.getByLabel('Speed of the shaft, rpm').fill('fast');
    await page.getByRole('button', { name: 'Analyse' }).click();
    await page.getByText('Speed: expected a number above 0, came “fast”.').waitFor();
    expect(await page.getByLabel('Speed of the shaft, rpm').getAttribute('aria-invalid')).toBe('true');
  });
});

describe('a WAV file', () => {
  test('without a scale no level is named; with one it has those of the table', async () => {
    await open();
    await choose(WAVE);
    await page.getByText('How strong anything is: the file carries no unit').waitFor();
    expect(await page.getByRole('row', { name: /Overall velocity/ }).count()).toBe(0);
    for (const [picture, axis] of [
      ['spectrum', 'velocity, % of the whole'],
      ['envelope', 'envelope, times the floor'],
      ['waveform', 'value in the file, no unit'],
    ] as const) {
      await page.getByRole('button', { name: picture, exact: true }).click();
      await page.locator('line-plot text').filter({ hasText: axis }).waitFor();
      expect(await page.locator('window-pictures').getByText('m/s').count(), picture).toBe(0);
    }
    await page.getByLabel('Full scale of a WAV file', { exact: true }).fill('50');
    await page.getByRole('button', { name: 'Analyse' }).click();
    await page.getByRole('row', { name: /Overall velocity RMS, 10 to 1,?000 Hz 25\.0 mm\/s/ }).waitFor();
  });

  test('a long one: medians, the greatest and when; the pictures of each window', async () => {
    await open();
    const noise = noiseOf(40 * 2000);
    const grows = noise.map((value, i) => 0.02 * value + (0.1 + i / 400_000) * Math.sin((2 * Math.PI * 25 * i) / 2000));
    await page.getByLabel('Full scale of a WAV file', { exact: true }).fill('10');
    await choose(fileOf('long.wav', waveFile({ sampleRateHz: 2000, channels: [grows], bits: 16, coding: 'whole' })));
    await page.getByText('10 of 4.00 s each').waitFor();
    await page.getByRole('heading', { name: /Pictures of window 5, from 16\.0 to 20\.0 s/ }).waitFor();
    await page.getByRole('button', { name: 'with the greatest velocity' }).click();
    await page.getByRole('heading', { name: /Pictures of window 10/ }).waitFor();
    expect(await page.getByRole('button', { name: 'the next' }).isDisabled()).toBe(true);
    expect(page.faults).toEqual([]);
  });
});

describe.each([
  ['light', { ...DESK, colorScheme: 'light' as const }],
  ['dark', { ...DESK, colorScheme: 'dark' as const }],
  ['on a tablet', TABLET],
  ['on a tablet held upright', UPRIGHT],
])('%s', (_, options) => {
  test('nothing that a reader cannot use, nothing beyond the edge, nothing too small to be pressed', async () => {
    await open(options);
    await page.getByText('Bearings and bands by hand').click();
    await page.getByText('How the file is to be read').click();
    await choose(TABLE);
    await page.getByText(NO_COMPLAINT).waitFor();
    await page.locator('line-plot svg').first().waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    expect(page.faults).toEqual([]);
    const small = await page
      .locator('recording-page')
      .locator('button, input, select, textarea, summary')
      .evaluateAll((elements) =>
        elements.flatMap((element) => {
          const { height } = element.getBoundingClientRect();
          return height < 44 ? [`${element.id}${element.textContent} ${height}`] : [];
        }),
      );
    expect({ small, leastPx: PRESSED_PX }).toEqual({ small: [], leastPx: PRESSED_PX });
  });
});
