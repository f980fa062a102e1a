// Lengths of time under their names, and the stretches that the pictures can show; apart from the schemas of shared/time.ts,
// so that no validator comes along to the browser.
import { say } from '../shared/language/index.ts';

export const MILLISECONDS_A_SECOND = 1000;
export const MILLISECONDS_A_MINUTE = 60_000;
export const MILLISECONDS_AN_HOUR = 3_600_000;
export const MILLISECONDS_A_DAY = 86_400_000;

export const SPANS = ['1h', '8h', '24h', '7d', '90d', '1y'] as const;
export type Span = (typeof SPANS)[number];
/** A year of every spindle of a floor would be read for seconds. */
export const FLOOR_SPANS: readonly Span[] = SPANS.filter((span) => span !== '1y');

export const SPAN_MS: Readonly<Record<Span, number>> = {
  '1h': MILLISECONDS_AN_HOUR,
  '8h': 8 * MILLISECONDS_AN_HOUR,
  '24h': MILLISECONDS_A_DAY,
  '7d': 7 * MILLISECONDS_A_DAY,
  '90d': 90 * MILLISECONDS_A_DAY,
  '1y': 365 * MILLISECONDS_A_DAY,
};

export const SPAN_WORDS: Readonly<Record<Span, string>> = {
  '1h': say`1 hour`,
  '8h': say`8 hours`,
  '24h': say`24 hours`,
  '7d': say`7 days`,
  '90d': say`90 days`,
  '1y': say`1 year`,
};

export function isSpan(text: string | null): text is Span {
  return text !== null && (SPANS as readonly string[]).includes(text);
}
