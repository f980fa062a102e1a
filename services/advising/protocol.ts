// What passes between the advising's client and its threads.
import type { Advice } from '../../shared/advice.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';

export interface ToAdvising {
  readonly number: number;
  readonly question: CorrectionQuestion;
  /** Search on until what is only a first answer is proven, however long that takes. */
  readonly prove: boolean;
}

export type FromAdvising =
  | { readonly kind: 'advice'; readonly number: number; readonly advice: Advice }
  | { readonly kind: 'failed'; readonly number: number; readonly why: string };
