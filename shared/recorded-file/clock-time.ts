// Times of day as recorders write them, "2026-03-01 10:20:30.125" or "10:20:30,125", in seconds of that day.

const CLOCK =
  /^(?:(?:\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4})[T ]\s*)?(\d{1,2}):(\d{2}):(\d{2})(?:[.,:](\d{1,9}))?(?:Z|[+-]\d{2}:?\d{2})?$/u;

/** NaN where it is none. What day it is does not matter: only steps are asked for. */
export function secondsOfDay(text: string): number {
  const [, hours, minutes, seconds, fraction = '0'] = CLOCK.exec(text) ?? [];
  if (hours === undefined) return Number.NaN;
  return Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds) + Number(`0.${fraction}`);
}

/** Power of ten of its last digit: −3 for milliseconds. */
export function lastPowerOf(text: string): number {
  const [, , , , fraction = ''] = CLOCK.exec(text) ?? [];
  return -fraction.length;
}

export const SECONDS_PER_DAY = 86_400;
