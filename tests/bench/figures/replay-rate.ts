// How fast a journal is decided anew, against merely reading the same readings as rows; and whether it stays so as the journal grows.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openReader } from '../../../services/journal/index.ts';
import { replay } from '../../../services/recording/index.ts';
import { listed, median, type Bench } from '../figure.ts';
import { HISTORY_PLANT, scanRows, writeHistory, type ReadingHistory } from '../plant/reading-history.ts';

const SPINDLES = 200;
const READINGS = 1_000_000;
const FEW_READINGS = 100_000;
/** Ten times as many take some minutes to write: for those who ask. */
const MANY_READINGS = 10_000_000;
const WITH_MANY = process.env['BENCH_TEN_MILLION'] === '1';

export const replayRate: Bench = {
  figures: [
    {
      name: 'replay.ratio_to_row_scan',
      unit: '1',
      better: 'higher',
      baseline: null,
      goal: '≥ 1.0',
      method:
        `${READINGS} readings of ${SPINDLES} spindles with their loads: readings/s of a replay (every entry decided anew, ` +
        'compared with what was recorded) ÷ rows/s of reading the same readings as rows of SQLite, pages of arrays, each number ' +
        'looked at. In one process, one after the other; processor time, the collector’s and the compiler’s with it.',
    },
    {
      name: 'replay.growth',
      unit: '1',
      better: 'lower',
      baseline: null,
      goal: '≤ 1.1',
      method:
        `Processor time of a replay per entry, ${WITH_MANY ? MANY_READINGS : READINGS} readings ÷ ${FEW_READINGS}: whether it ` +
        'stays the same as the journal grows. With BENCH_TEN_MILLION=1 of 10⁷ readings, which take minutes to write.',
    },
  ],
  run: async ({ repeats, say }) => {
    const folder = mkdtempSync(join(tmpdir(), 'counterpoise-bench-'));
    try {
      const write = async (readings: number): Promise<ReadingHistory> => {
        say(`writing ${readings} readings …`);
        return writeHistory(folder, SPINDLES, readings);
      };
      const history = await write(READINGS);
      const few = await write(FEW_READINGS);
      const many = WITH_MANY ? await write(MANY_READINGS) : history;
      const [replays, scans, fews, manies]: [number[], number[], number[], number[]] = [[], [], [], []];
      await replayUs(few);
      for (let repeat = 0; repeat < repeats; repeat += 1) {
        scans.push(scanUs(history));
        replays.push(await replayUs(history));
        // A short one is over before the clock of processor time has ticked often enough: as many entries as the long one has.
        fews.push(median(await several(few, READINGS / FEW_READINGS)));
        manies.push(many === history ? (replays.at(-1) ?? Number.NaN) : await replayUs(many));
        say(
          `replay ${repeat + 1} of ${repeats}: ${replays.at(-1)?.toFixed(3)} µs a reading, a row ${scans.at(-1)?.toFixed(3)}`,
        );
      }
      const ratios = scans.map((us, index) => us / (replays[index] ?? Number.NaN));
      const growth = manies.map((us, index) => us / (fews[index] ?? Number.NaN));
      return {
        values: { 'replay.ratio_to_row_scan': median(ratios), 'replay.growth': median(growth) },
        details: [
          `replay ${listed(replays, 3)} µs a reading, rows ${listed(scans, 3)} µs, ratios ${listed(ratios, 2)}`,
          `few ${listed(fews, 3)} µs, many ${listed(manies, 3)} µs, growth ${listed(growth, 2)}`,
        ],
      };
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

async function several(history: ReadingHistory, times: number): Promise<readonly number[]> {
  const all: number[] = [];
  for (let time = 0; time < times; time += 1) all.push(await replayUs(history));
  return all;
}

async function replayUs({ file, readings }: ReadingHistory): Promise<number> {
  const journal = await openReader({ store: 'sqlite', file });
  const begun = process.cpuUsage();
  const replayed = await replay({ journal, plant: HISTORY_PLANT });
  const { user, system } = process.cpuUsage(begun);
  await journal.close();
  if (replayed.readings !== readings || replayed.outcomes.differing > 0)
    throw new Error(
      `of ${readings} readings ${replayed.readings} were replayed, ${replayed.outcomes.differing} otherwise`,
    );
  return (user + system) / readings;
}

function scanUs({ rowsFile, readings }: ReadingHistory): number {
  const begun = process.cpuUsage();
  const { rows, sum } = scanRows(rowsFile);
  const { user, system } = process.cpuUsage(begun);
  if (rows !== readings || !(sum > 0)) throw new Error(`of ${readings} rows ${rows} were read`);
  return (user + system) / readings;
}
