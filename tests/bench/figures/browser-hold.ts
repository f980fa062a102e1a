// From what raises a hold to somebody who sees it: the acknowledgement of the message, the hold's line on the page Holds.
import type { Page } from 'playwright-core';
import { watchHolds, type HoldSeen } from '../browser/painted.ts';
import { openSignedIn } from '../browser/signed-in.ts';
import { listed, median, quantile, type Bench } from '../figure.ts';
import { endBackground, startBackground } from '../plant/background.ts';
import { connectBenchDevice, type BenchMqtt } from '../plant/bench-device.ts';
import { heldAssemblyOf, machineOf, spindleOf } from '../plant/bench-plant.ts';
import { prepareData, startService } from '../plant/bench-service.ts';
import { waitFor } from '../../environment/wait-for.ts';

const SPINDLES = 200;
const HOLDS = 30;
const METHOD =
  `${HOLDS} held assemblies loaded one after another on a plant of ${SPINDLES} spindles with 1 reading/s each; from the PUBACK of the ` +
  'message that raises the hold, as its device gets it, to the frame of Chromium that shows its line on the page Holds. One machine, one clock.';

export const browserHold: Bench = {
  figures: [
    {
      name: 'browser.hold_on_screen_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      goal: '≤ 500',
      method: `${METHOD} The slowest hundredth.`,
    },
    {
      name: 'browser.hold_on_screen_p50_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      method: `${METHOD} Half of them.`,
    },
  ],
  run: async ({ repeats, say }) => {
    const prepared = await prepareData(SPINDLES);
    const service = await startService(prepared);
    const load = await startBackground(service, { sensors: SPINDLES, ratePerSecond: SPINDLES, window: 4 });
    const signedIn = await openSignedIn(service.url, await service.signIn());
    const page = await signedIn.page();
    await page.goto(`${service.url}/holds`);
    await page.locator('holds-page').getByRole('heading', { level: 2 }).first().waitFor();
    const machines: BenchMqtt[] = [];
    for (let number = 1; number <= HOLDS; number += 1)
      machines.push(await connectBenchDevice(service, machineOf(number)));
    const seen: HoldSeen[] = [];
    await watchHolds(page, (hold) => void seen.push(hold));
    const runs: number[][] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      const took: number[] = [];
      for (const [index, machine] of machines.entries()) took.push(await holdTookMs(machine, index + 1, seen));
      await untilNoneOpen(page, machines);
      runs.push(took);
      say(`hold on screen ${repeat + 1} of ${repeats}: p99 ${quantile(took, 0.99).toFixed(0)} ms`);
    }
    for (const machine of machines) await machine.close();
    await signedIn.stop();
    await endBackground(load);
    await service.stop();
    prepared.remove();
    const p99 = runs.map((took) => quantile(took, 0.99));
    const p50 = runs.map((took) => quantile(took, 0.5));
    return {
      values: { 'browser.hold_on_screen_ms': median(p99), 'browser.hold_on_screen_p50_ms': median(p50) },
      details: [
        `${runs.map((took) => took.length).join(' ')} holds; p50 ${listed(p50, 0)} ms, p99 ${listed(p99, 0)} ms`,
      ],
    };
  },
};

async function holdTookMs(machine: BenchMqtt, number: number, seen: HoldSeen[]): Promise<number> {
  const spindleId = spindleOf(number);
  seen.length = 0;
  const acknowledgedMs = await machine.sendAcknowledged('load', {
    spindleId,
    action: 'load',
    assemblyId: heldAssemblyOf(number),
  });
  const isIt = ({ words }: HoldSeen): boolean => words.includes(spindleId);
  await waitFor(`the hold on ${spindleId} on screen`, () => seen.some(isIt));
  return (seen.find(isIt)?.atMs ?? Number.NaN) - acknowledgedMs;
}

/** For the next round all of them are taken out again, and their holds end. */
async function untilNoneOpen(page: Page, machines: readonly BenchMqtt[]): Promise<void> {
  for (const [index, machine] of machines.entries())
    await machine.sendAcknowledged('load', { spindleId: spindleOf(index + 1), action: 'unload' });
  for (const [index] of machines.entries())
    await page.locator('holds-page a.line', { hasText: spindleOf(index + 1) }).waitFor({ state: 'detached' });
}
