// Whether the picture is live, in words: "live, 3 s ago" only while frames come, else since when it is old. Pure.
import { say } from '../../shared/language/index.ts';
import { clockTime, duration } from '../wording/instants.ts';

export interface Liveness {
  /** Since the last frame, by this machine's clock; undefined before the first. */
  readonly sinceFrameMs: number | undefined;
  readonly liveWithinMs: number;
  /** The plant's time of the last frame. */
  readonly plantNow: number | undefined;
  readonly zone: string;
}

export type LiveWords =
  | { readonly kind: 'waiting'; readonly words: string }
  | { readonly kind: 'live'; readonly words: string }
  | { readonly kind: 'old'; readonly words: string };

export function liveWords({ sinceFrameMs, liveWithinMs, plantNow, zone }: Liveness): LiveWords {
  if (sinceFrameMs === undefined || plantNow === undefined) return { kind: 'waiting', words: say`not live yet` };
  if (sinceFrameMs < liveWithinMs) return { kind: 'live', words: say`live ${duration(sinceFrameMs)} ago` };
  return { kind: 'old', words: say`not live since ${clockTime(plantNow, zone)}` };
}
