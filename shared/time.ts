// The one place that names time: milliseconds UTC inside, RFC 3339 with Z at the edges. Without a schema: threads that check
// nothing need not have the checking in their memory.

/** Milliseconds since 1970-01-01T00:00:00Z. */
export type Instant = number;

/** The only way a part with I/O learns what time it is; tests and the demo hand in their own. */
export interface Clock {
  now(): Instant;
}

export const MILLISECONDS_A_SECOND = 1000;
export const MILLISECONDS_A_MINUTE = 60_000;
export const MILLISECONDS_AN_HOUR = 3_600_000;
export const MILLISECONDS_A_DAY = 86_400_000;

export function instantOf(rfc3339: string): Instant {
  return Date.parse(rfc3339);
}

/** Whatever `Rfc3339` reads can be written: what an offset took out of the years 0 to 9999 gets an offset again. */
export function rfc3339Of(at: Instant): string {
  // A given instant is data, not the clock: the same number gives the same text anywhere.
  if (at < YEAR_0) return `${new Date(at + OFFSET_MS_MAX).toISOString().slice(0, -1)}+${OFFSET_MAX}`;
  if (at >= YEAR_10000) return `${new Date(at - OFFSET_MS_MAX).toISOString().slice(0, -1)}-${OFFSET_MAX}`;
  return new Date(at).toISOString();
}

const YEAR_0 = Date.UTC(-1, 12);
const YEAR_10000 = Date.UTC(10_000, 0);
const OFFSET_MAX = '23:59';
const OFFSET_MS_MAX = MILLISECONDS_A_DAY - MILLISECONDS_A_MINUTE;
