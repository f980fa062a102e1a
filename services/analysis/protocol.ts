// What passes between the analysis' client and its thread.
import type { WaveDone, WaveJob } from '../../shared/wave-job.ts';

/** The buffer of the counts goes over with it. */
export interface ToAnalysis {
  readonly job: WaveJob;
}

export interface FromAnalysis {
  readonly done: WaveDone;
}
