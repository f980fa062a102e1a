// The levels at which trends are kept, and which of them answers a question with about as many buckets as were asked for.
import { MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR, type Instant } from '../../shared/time.ts';

export interface Level {
  readonly number: number;
  readonly bucketMs: number;
  /** Buckets that stand in one chunk; at most 255, so that an index takes a byte. */
  readonly perChunk: number;
  readonly chunkMs: number;
}

function level(number: number, bucketMs: number, perChunk: number): Level {
  return { number, bucketMs, perChunk, chunkMs: bucketMs * perChunk };
}

/** Minutes in chunks of an hour: the present is rewritten often and should be small. Hours in chunks of a day. */
export const MINUTES = level(0, MILLISECONDS_A_MINUTE, 60);
export const HOURS = level(1, MILLISECONDS_AN_HOUR, 24);
export const LEVELS: readonly Level[] = [MINUTES, HOURS];

export interface Asked {
  readonly from: Instant;
  readonly to: Instant;
  readonly points: number;
}

export interface Grid {
  readonly level: Level;
  readonly bucketMs: number;
  /** Start of the first bucket; buckets stand at whole multiples of their length since 1970. */
  readonly begin: Instant;
  readonly buckets: number;
}

/** At most one bucket more than the points asked for, because the ends need not fall on a bucket's edge. */
export function gridFor({ from, to, points }: Asked): Grid {
  const wanted = (to - from) / points;
  const chosen = wanted >= HOURS.bucketMs ? HOURS : MINUTES;
  const bucketMs = Math.max(1, Math.ceil(wanted / chosen.bucketMs)) * chosen.bucketMs;
  const begin = Math.floor(from / bucketMs) * bucketMs;
  return { level: chosen, bucketMs, begin, buckets: Math.ceil((to - begin) / bucketMs) };
}

export function chunkStart({ chunkMs }: Level, at: Instant): Instant {
  return Math.floor(at / chunkMs) * chunkMs;
}
