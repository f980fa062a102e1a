// How a receiver knows that a notice is ours and fresh: HMAC-SHA-256 (RFC 2104) over "<timestamp>.<body>".
import { createHmac, timingSafeEqual } from 'node:crypto';

export const SIGNATURE_HEADERS = {
  /** Whole seconds since 1970-01-01T00:00:00Z, when this try was sent. */
  timestamp: 'counterpoise-timestamp',
  /** `sha256=` and 64 hexadecimal digits. */
  signature: 'counterpoise-signature',
  /** The same for every try of one notice, so that a receiver can drop a repeat. */
  notice: 'counterpoise-notice',
} as const;

export function signatureOf(key: Uint8Array, timestamp: string, body: string): string {
  return `sha256=${createHmac('sha256', key).update(`${timestamp}.`).update(body).digest('hex')}`;
}

/** Compares in constant time; a signature of another length is simply not one. */
export function isSigned(key: Uint8Array, timestamp: string, body: string, signature: string): boolean {
  const expected = Buffer.from(signatureOf(key, timestamp, body));
  const got = Buffer.from(signature);
  return expected.length === got.length && timingSafeEqual(expected, got);
}
