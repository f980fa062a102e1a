// Windows that wait for their analysis: each channel gets its turn, and where too many came the oldest of the greediest goes.
import type { WaveJob } from '../../shared/wave-job.ts';
import type { AnalysisLimits } from './limits.ts';

export type QueueLimits = Pick<AnalysisLimits, 'windowsMax' | 'bytesMax' | 'windowsPerChannelMax'>;

export class WindowQueue {
  readonly #limits: QueueLimits;
  /** By channel of a sensor, in the order of their next turn; oldest window first; never an empty list. */
  readonly #channels = new Map<string, WaveJob[]>();
  #windows = 0;
  #bytes = 0;

  constructor(limits: QueueLimits) {
    this.#limits = limits;
  }

  get length(): number {
    return this.#windows;
  }

  /** Takes a window in; gives back those that have to be skipped for it. */
  add(job: WaveJob): readonly WaveJob[] {
    const key = channelOf(job);
    const mine = this.#channels.get(key);
    if (mine === undefined) this.#channels.set(key, [job]);
    else mine.push(job);
    this.#windows += 1;
    this.#bytes += job.counts.byteLength;
    const skipped: WaveJob[] = [];
    if ((mine?.length ?? 0) > this.#limits.windowsPerChannelMax) this.#skip(key, skipped);
    while (this.#isOverfull()) this.#skip(this.#greediest(), skipped);
    return skipped;
  }

  /** The oldest window of the channel whose turn it is; undefined where none waits. */
  take(): WaveJob | undefined {
    const first = this.#channels.entries().next().value;
    if (first === undefined) return undefined;
    const [key, jobs] = first;
    const job = this.#remove(key, jobs);
    if (jobs.length > 0) {
      // To the end: every other channel comes before its next one.
      this.#channels.delete(key);
      this.#channels.set(key, jobs);
    }
    return job;
  }

  clear(): void {
    this.#channels.clear();
    this.#windows = 0;
    this.#bytes = 0;
  }

  #isOverfull(): boolean {
    const { windowsMax, bytesMax } = this.#limits;
    return this.#windows > windowsMax || (this.#bytes > bytesMax && this.#windows > 1);
  }

  #skip(key: string, skipped: WaveJob[]): void {
    const jobs = this.#channels.get(key);
    const job = jobs === undefined ? undefined : this.#remove(key, jobs);
    if (job !== undefined) skipped.push(job);
  }

  /** The channel with most windows waiting; of equals the one whose oldest has waited longest. */
  #greediest(): string {
    let greediest = '';
    let most = 0;
    let oldest = Infinity;
    for (const [key, jobs] of this.#channels) {
      const waveId = jobs[0]?.waveId ?? Infinity;
      if (jobs.length < most || (jobs.length === most && waveId > oldest)) continue;
      greediest = key;
      most = jobs.length;
      oldest = waveId;
    }
    return greediest;
  }

  #remove(key: string, jobs: WaveJob[]): WaveJob | undefined {
    const job = jobs.shift();
    if (jobs.length === 0) this.#channels.delete(key);
    if (job !== undefined) {
      this.#windows -= 1;
      this.#bytes -= job.counts.byteLength;
    }
    return job;
  }
}

const channelOf = ({ device, spindleId, wave }: WaveJob): string => `${device} ${spindleId} ${wave.channel}`;
