// What passes between the main thread and a try-out's thread.
import type { TryOutAnswer } from '../../shared/try-out.ts';
import type { JournalSettings } from '../journal/index.ts';
import type { RunAsked } from './run.ts';

export interface TryOutWork {
  readonly journal: JournalSettings;
  readonly asked: RunAsked;
}

export type FromTryOut =
  | { readonly kind: 'progress'; readonly share: number }
  | { readonly kind: 'answer'; readonly answer: TryOutAnswer }
  | { readonly kind: 'failed'; readonly message: string };
