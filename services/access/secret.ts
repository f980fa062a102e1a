// Random secrets for sessions, one-time tokens and devices, and the form in which they are kept.
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** 256 bits, URL-safe text. */
const TOKEN_BYTES = 32;
/** 192 bits: 32 characters that a person can still copy into a device. */
const DEVICE_SECRET_BYTES = 24;

export function newToken(): string {
  return randomBytes(TOKEN_BYTES).toString('base64url');
}

export function newDeviceSecret(): string {
  return randomBytes(DEVICE_SECRET_BYTES).toString('base64url');
}

/**
 * What is stored of a secret that we made ourselves. One SHA-256 is enough: a slow hash protects guessable secrets, and
 * 192 random bits cannot be guessed however fast the trying; a device's connect then costs microseconds, not a quarter of
 * a second that anybody could make us spend. Passwords, which people choose, get scrypt (`password.ts`).
 */
export function hashOfSecret(secret: string): string {
  return createHash('sha256').update(secret, 'utf8').digest('base64url');
}

export function sameHash(a: string, b: string): boolean {
  const left = Buffer.from(a);
  const right = Buffer.from(b);
  return left.length === right.length && timingSafeEqual(left, right);
}
