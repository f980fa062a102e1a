// What passes between the advising's client and its thread.
import type { Advice } from '../../shared/advice.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';

export type ToAdvising =
  | { readonly kind: 'advise'; readonly number: number; readonly question: CorrectionQuestion }
  /** To be proven between questions, within so long. */
  | { readonly kind: 'prove'; readonly question: CorrectionQuestion; readonly withinMs: number };

export type FromAdvising =
  | { readonly kind: 'advice'; readonly number: number; readonly advice: Advice }
  | { readonly kind: 'failed'; readonly number: number; readonly why: string }
  /** Without advice where it could not be proven in time. */
  | { readonly kind: 'proven'; readonly advice: Advice | undefined };
