// What passes between the main thread and the one that checks the chain.
import type { ChainVerdictView } from '../../shared/record.ts';
import type { JournalSettings } from '../journal/index.ts';

export interface VerifyingWork {
  readonly journal: JournalSettings;
  /** As it was noted: "4711:9f86…". */
  readonly noted: string | undefined;
}

export type FromVerifying =
  | { readonly kind: 'progress'; readonly share: number }
  | { readonly kind: 'verdict'; readonly verdict: ChainVerdictView }
  | { readonly kind: 'failed'; readonly message: string };
