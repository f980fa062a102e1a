// The invented past of the demonstration, loaded in one go or in two: the same journal.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { loadPast, PastFile, pastMessages, type Past } from '../../../services/commands/demo-history.ts';
import { LinePlayer, type PlantClient } from '../../../services/plant/index.ts';
import { makeFolder } from '../../environment/folder.ts';
import { contentOf, PLANT, RunningPlant, START } from '../recording/running-plant.ts';

const PAST: Past = { plantId: PLANT, seed: 2, days: 20, until: START };

/** The plant's call as the thread answers it; stops the loading after so many pieces. */
function played(ran: RunningPlant, stop?: { readonly controller: AbortController; readonly afterPieces: number }) {
  let pieces = 0;
  const call = async (_name: string, text: string): Promise<number> => {
    let faults = 0;
    const player = new LinePlayer(ran.plant, { tickMs: 0, exact: false, fault: () => void (faults += 1) });
    await player.take(text.split('\n'));
    await player.flush();
    if ((pieces += 1) === stop?.afterPieces) stop.controller.abort();
    return faults;
  };
  return { call } as unknown as Pick<PlantClient, 'call'>;
}

test('interrupted and gone on with, it is the same', async () => {
  const whole = await RunningPlant.open();
  await loadPast(played(whole), PAST, { stored: 0 });
  const expected = await contentOf(whole.journal);
  expect(expected.entries).toHaveLength([...pastMessages(PAST)].length);

  const broken = await RunningPlant.open();
  const controller = new AbortController();
  const stopped = loadPast(played(broken, { controller, afterPieces: 2 }), PAST, {
    stored: 0,
    stop: controller.signal,
  });
  await expect(stopped).rejects.toThrow(/abort/i);
  const stored = await broken.plant.position();
  expect(stored).toBeGreaterThan(0);
  expect(stored).toBeLessThan(expected.entries.length);
  await broken.restart();
  await loadPast(played(broken), PAST, { stored });
  expect((await contentOf(broken.journal)).entries).toEqual(expected.entries);
  expect(broken.keeper.allHolds()).toEqual(whole.keeper.allHolds());
}, 60_000);

test('what was begun is noted until it is finished, and never begun twice', () => {
  const folder = makeFolder('demo-history');
  const file = new PastFile(join(folder.path, 'demo-history'));
  expect(file.unfinished()).toBeUndefined();
  file.begin(PAST);
  expect(file.unfinished()).toEqual(PAST);
  expect(() => file.begin(PAST)).toThrow(/EEXIST/);
  file.finish();
  expect(file.unfinished()).toBeUndefined();
  expect(existsSync(join(folder.path, 'demo-history'))).toBe(false);
  folder.remove();
});
