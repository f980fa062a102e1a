// A process with NumPy and SciPy that makes summaries of the bench's windows when it is told how many, and says how long it took.
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { bearingFrequencies, type VibrationWindow } from '../../../shared/vibration/index.ts';
import type { WaveAnalysis } from '../../../shared/wave-analysis.ts';
import { pythonProgram } from '../../environment/python.ts';
import { BAND_HZ, BEARING, ENVELOPE_HZ, RATE_HZ, TEETH, TOLD_HZ } from './known-windows.ts';

/** The script stays with the sources; the program runs from the build beside them. */
const ROOT = import.meta.url.includes('/build/') ? '../../../../' : '../../../';
const SCRIPT = new URL(`${ROOT}tests/bench/waveform/summary.py`, import.meta.url);
/** One thread: NumPy's linear algebra would take all cores. */
const ONE_THREAD = { OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1', MKL_NUM_THREADS: '1' };

export interface ScipySaid {
  readonly overallMmS: number;
  readonly rms: number;
  readonly kurtosis: number;
  readonly hz: number;
  readonly orders: readonly number[];
  readonly envelopeRms: number;
  readonly floor: number;
}

export class ScipySummary {
  readonly said: ScipySaid;
  readonly #process: ChildProcess;
  readonly #lines: AsyncIterator<string>;

  private constructor(child: ChildProcess, lines: AsyncIterator<string>, said: ScipySaid) {
    this.#process = child;
    this.#lines = lines;
    this.said = said;
  }

  static async start(windows: readonly VibrationWindow[]): Promise<ScipySummary> {
    const child = spawn(pythonProgram(), [SCRIPT.pathname], {
      env: { ...process.env, ...ONE_THREAD },
      stdio: ['pipe', 'pipe', 'inherit'],
    });
    const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
    const asked = {
      rows: windows.map((it) => [...it.accelerationMS2]),
      sampleRateHz: RATE_HZ,
      toldHz: TOLD_HZ,
      teeth: TEETH,
      bandHz: BAND_HZ,
      envelopeHz: ENVELOPE_HZ,
      // At one turn a second they are the orders.
      defectOrders: bearingFrequencies(BEARING, 60),
    };
    child.stdin.write(`${JSON.stringify(asked)}\n`);
    return new ScipySummary(child, lines, JSON.parse(await nextOf(lines)) as ScipySaid);
  }

  /** Seconds of processor time that so many summaries took. */
  async take(count: number): Promise<number> {
    this.#process.stdin?.write(`${count}\n`);
    return Number(await nextOf(this.#lines));
  }

  async stop(): Promise<void> {
    const ended = once(this.#process, 'exit');
    this.#process.stdin?.end('\n');
    await ended;
  }
}

async function nextOf(lines: AsyncIterator<string>): Promise<string> {
  const next = await lines.next();
  if (next.done === true) throw new Error('expected NumPy and SciPy (python3-scipy) to answer; they ended');
  return next.value;
}

/** Both have to say the same before their times mean anything. */
export function demandSame(ours: WaveAnalysis, theirs: ScipySaid): void {
  const pairs: readonly (readonly [string, number | undefined, number | undefined])[] = [
    ['overall', ours.overallMmS, theirs.overallMmS],
    ['rms', ours.accelerationRmsMS2, theirs.rms],
    ['kurtosis', ours.kurtosis, theirs.kurtosis],
    ['shaft', (ours.speedRpm ?? Number.NaN) / 60, theirs.hz],
    ['1x', ours.orders[0]?.velocityMmS, theirs.orders[0]],
    ['3x', ours.orders[2]?.velocityMmS, theirs.orders[2]],
    ['teeth', ours.toothPassing?.velocityMmS, theirs.orders[3]],
    ['envelope', ours.envelope?.rmsMS2, theirs.envelopeRms],
    ['floor', ours.envelope?.floorMS2, theirs.floor],
  ];
  for (const [name, our, their] of pairs) {
    if (!(Math.abs((our ?? Number.NaN) / (their ?? Number.NaN) - 1) < 1e-6)) {
      throw new Error(`${name}: expected both to say the same, came ${our} and ${their}`);
    }
  }
}
