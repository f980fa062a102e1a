// What the plant answers: what is to be told to whom after a commit, and what became of an act or of a message that is read again.
import type { Position } from '../../shared/entries.ts';
import type { Problem } from '../../shared/problem.ts';
import type { WaveJob } from '../../shared/wave-job.ts';
import type { BenchAnswer, Publication } from '../holds/index.ts';

/** What a commit asks to be told, in order. */
export interface Told {
  readonly publications: readonly Publication[];
  /** Holds that were raised or took a step, for the alerts. */
  readonly holdIds: readonly string[];
  /** To benches, of their results; the advice is still to be made. */
  readonly benchAnswers: readonly BenchAnswer[];
  /** Raw windows that were kept, to be analysed. */
  readonly waves: readonly WaveJob[];
}

export type ActDone =
  | { readonly kind: 'done'; readonly position: Position; readonly told: Told }
  | { readonly kind: 'refused'; readonly why: string; readonly told: Told }
  | { readonly kind: 'invalid'; readonly problem: Problem };

export type RetryDone =
  | { readonly kind: 'kept'; readonly position: Position; readonly told: Told }
  | { readonly kind: 'rejected'; readonly problem: Problem }
  | { readonly kind: 'unknown' };
