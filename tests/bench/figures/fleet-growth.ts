// Whether a reading costs the same whatever the number of spindles, and what the rules remember of each of them.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deserialize, serialize, setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { floorThrough } from '../../../services/holds/index.ts';
import { openReader } from '../../../services/journal/index.ts';
import { replay } from '../../../services/recording/index.ts';
import { listed, median, type Bench } from '../figure.ts';
import { HISTORY_PLANT, writeHistory, type ReadingHistory } from '../plant/reading-history.ts';

const FEW_SPINDLES = 20;
const MIDDLE_SPINDLES = 200;
const MANY_SPINDLES = 2000;
const READINGS = 1_000_000;

export const fleetGrowth: Bench = {
  figures: [
    {
      name: 'fleet.growth',
      unit: '1',
      better: 'lower',
      baseline: null,
      goal: '≤ 1.2',
      method:
        `${READINGS} readings in turn of ${MANY_SPINDLES} spindles and of ${FEW_SPINDLES}, decided anew: processor time a reading ` +
        'of the many ÷ of the few. What is left above 1 is mostly memory: the state of many spindles is not in the processor’s cache.',
    },
    {
      name: 'rules.bytes_per_spindle',
      unit: 'B',
      better: 'lower',
      baseline: null,
      method:
        `Heap that a copy of the floor of ${MANY_SPINDLES} spindles takes after ${READINGS} readings at three speeds, a sensor and a ` +
        'machine each, four assemblies and two limits, all of it counted, ÷ their number.',
    },
  ],
  run: async ({ repeats, say }) => {
    const folder = mkdtempSync(join(tmpdir(), 'counterpoise-bench-'));
    try {
      const histories: ReadingHistory[] = [];
      for (const spindles of [FEW_SPINDLES, MIDDLE_SPINDLES, MANY_SPINDLES]) {
        say(`writing ${READINGS} readings of ${spindles} spindles …`);
        histories.push(await writeHistory(folder, spindles, READINGS));
      }
      const taken: number[][] = histories.map(() => []);
      for (const history of histories) await replayUs(history);
      for (let repeat = 0; repeat < repeats; repeat += 1) {
        for (const [place, history] of histories.entries()) taken[place]?.push(await replayUs(history));
        say(`fleet ${repeat + 1} of ${repeats}: ${taken.map((all) => all.at(-1)?.toFixed(2)).join(', ')} µs a reading`);
      }
      const [few = [], middle = [], many = []] = taken;
      const growth = many.map((us, index) => us / (few[index] ?? Number.NaN));
      const bytes = await floorBytes(histories.at(-1)?.file ?? '');
      return {
        values: { 'fleet.growth': median(growth), 'rules.bytes_per_spindle': bytes / MANY_SPINDLES },
        details: [
          `${FEW_SPINDLES}: ${listed(few, 2)} µs; ${MIDDLE_SPINDLES}: ${listed(middle, 2)} µs; ${MANY_SPINDLES}: ${listed(many, 2)} µs`,
          `growth ${listed(growth, 2)}; the whole floor ${(bytes / 2 ** 20).toFixed(1)} MiB`,
        ],
      };
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

async function replayUs({ file, readings }: ReadingHistory): Promise<number> {
  const journal = await openReader({ store: 'sqlite', file });
  const begun = process.cpuUsage();
  const replayed = await replay({ journal, plant: HISTORY_PLANT });
  const { user, system } = process.cpuUsage(begun);
  await journal.close();
  if (replayed.outcomes.differing > 0) throw new Error(`${replayed.outcomes.differing} were otherwise than recorded`);
  return (user + system) / readings;
}

async function floorBytes(file: string): Promise<number> {
  const journal = await openReader({ store: 'sqlite', file });
  const { position: through } = await journal.head();
  const { floor } = await floorThrough({ journal, plant: HISTORY_PLANT, through });
  await journal.close();
  if (floor.spindles.size !== MANY_SPINDLES) throw new Error(`the floor holds ${floor.spindles.size} spindles`);
  return copyBytes(serialize(floor));
}

/** Of one more copy, made while nothing else runs: what a promise still holds of the floor itself is not counted with it. */
function copyBytes(written: Uint8Array): number {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  collect();
  const before = process.memoryUsage().heapUsed;
  const copy = deserialize(written) as { readonly spindles: ReadonlyMap<string, unknown> };
  collect();
  const bytes = process.memoryUsage().heapUsed - before;
  if (copy.spindles.size !== MANY_SPINDLES) throw new Error('the copy is another floor');
  return bytes;
}
