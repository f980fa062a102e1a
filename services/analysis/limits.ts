// Every limit of the analysis under its name.

export interface AnalysisLimits {
  /** Windows that wait; one more skips the oldest of the sensor that has most waiting. */
  readonly windowsMax: number;
  /** Bytes of samples that wait; beyond it the same. A window that is larger alone still waits, alone. */
  readonly bytesMax: number;
  /** Of one channel of one spindle: beyond it its oldest is skipped, however much room there is. */
  readonly windowsPerChannelMax: number;
  /** Analysed and not yet on record: beyond it the next window waits for the disk. */
  readonly untoldMax: number;
  /** One window that takes longer is given up, and the thread is started anew. */
  readonly stuckMs: number;
}

/**
 * 96 windows of 25,600 samples are some 5 MB and a few seconds of work; nobody is helped by the analysis of a window that has
 * waited for minutes, and its samples are kept. Common practice, no source.
 */
export const ANALYSIS_LIMITS: AnalysisLimits = {
  windowsMax: 96,
  bytesMax: 24 * 1024 * 1024,
  windowsPerChannelMax: 8,
  untoldMax: 32,
  stuckMs: 20_000,
};

/**
 * How much the thread gives way to those that acknowledge: 0 not at all, 19 to everybody. With 5 it gets a third of what another
 * thread gets where both want a core (sched(7)); with much more other programs of the machine would stop it altogether.
 */
export const THREAD_NICENESS = 5;
