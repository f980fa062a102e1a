// How long one raw window takes to all that is said of it, against NumPy and SciPy saying the same.
import { analyseWindow } from '../../../shared/vibration/index.ts';
import { listed, median, type Bench } from '../figure.ts';
import { knownWindow, SAMPLES, SETTINGS } from '../waveform/known-windows.ts';
import { demandSame, ScipySummary } from '../waveform/scipy-summary.ts';

const WINDOWS = 4;
const SUMMARIES = 60;

export const waveformSummary: Bench = {
  figures: [
    {
      name: 'waveform.ratio_to_scipy',
      unit: '1',
      better: 'higher',
      baseline: null,
      goal: '≥ 1.0',
      method:
        `One window of ${SAMPLES} samples to the full summary: shape, overall velocity, speed sought beside the one that was told, ` +
        'its spread, orders and tooth passing, levels, envelope of a given band, lines of one bearing, signal health (of which the ' +
        'other side does the plain part); against ' +
        'NumPy and SciPy saying the same (checked to 10⁻⁶), written with vectors and real transforms, in one thread. ' +
        `Blocks of ${SUMMARIES} take turns; their processor time ÷ ours, median of the blocks.`,
    },
    {
      name: 'waveform.summary_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      method:
        'The same, processor time of ours, all threads of the process counted: a median of blocks in a warm process.',
    },
  ],
  run: async ({ repeats, say }) => {
    const windows = Array.from({ length: WINDOWS }, (_, seed) => knownWindow(seed + 1));
    const scipy = await ScipySummary.start(windows);
    const ours: number[] = [];
    const theirs: number[] = [];
    try {
      demandSame(analyseWindow(windows[0]!, SETTINGS), scipy.said);
      const takeOurs = (): number => taken(() => windows.map((it) => analyseWindow(it, SETTINGS)));
      await scipy.take(SUMMARIES);
      takeOurs();
      for (let repeat = 0; repeat < repeats; repeat += 1) {
        // Neither always goes first.
        if (repeat % 2 === 0) theirs.push((1e3 * (await scipy.take(SUMMARIES))) / SUMMARIES);
        ours.push(takeOurs());
        if (repeat % 2 === 1) theirs.push((1e3 * (await scipy.take(SUMMARIES))) / SUMMARIES);
        say(
          `waveform ${repeat + 1} of ${repeats}: ${ours.at(-1)?.toFixed(2)} ms, SciPy ${theirs.at(-1)?.toFixed(2)} ms`,
        );
      }
    } finally {
      await scipy.stop();
    }
    const ratios = ours.map((ms, i) => (theirs[i] ?? Number.NaN) / ms);
    return {
      values: { 'waveform.ratio_to_scipy': median(ratios), 'waveform.summary_ms': median(ours) },
      details: [`ours ${listed(ours, 2)} ms`, `SciPy ${listed(theirs, 2)} ms`, `ratios ${listed(ratios, 2)}`],
    };
  },
};

/** Milliseconds of processor time, the collector's and the compiler's with them, that one window took of as many as the other side takes. */
function taken(work: () => unknown[]): number {
  const begun = process.cpuUsage();
  let done = 0;
  while (done < SUMMARIES) done += work().length;
  const { user, system } = process.cpuUsage(begun);
  return (user + system) / 1e3 / done;
}
