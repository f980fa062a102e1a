// The WebSocket feed: a snapshot at a number, then changes with the next numbers; a gap means ask for a snapshot again.
import type { FloorView, HoldView, IntakeView, SpindleRow } from './views.ts';

export type FeedFrame =
  | { readonly frame: 'snapshot'; readonly number: number; readonly floor: FloorView }
  | {
      readonly frame: 'change';
      /** One more than the frame before. */
      readonly number: number;
      readonly now: number;
      /** Whole rows of what changed; a row replaces the one of the same id. */
      readonly spindles: readonly SpindleRow[];
      readonly holds: readonly HoldView[];
      readonly intake?: IntakeView;
    };

/** A frame comes at least this often even when nothing changed, so that "live" can be told from "stopped". */
export const FEED_BEAT_MS = 2000;
/** Changes are gathered this long; a hold goes at once. */
export const FEED_GATHER_MS = 250;
