// What passes between the advising's client and its thread.
import type { Advice } from '../../shared/advice.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';

export interface ToAdvising {
  readonly number: number;
  readonly question: CorrectionQuestion;
}

export type FromAdvising =
  | { readonly number: number; readonly advice: Advice }
  | { readonly number: number; readonly failure: string };
