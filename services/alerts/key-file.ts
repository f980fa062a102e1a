// The key that signs a channel's notices: read from its file, or made at the first start so that nobody has to.
import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

export const KEY_BYTES = 32;
/** A shorter key could be guessed. */
const KEY_BYTES_MIN = 16;
const KEY_PATTERN = /^(?:[0-9a-f]{2})+$/i;

export type KeyRead = { readonly key: Uint8Array; readonly made: boolean } | { readonly fault: string };

/** Reads hex digits from the file; makes it, mode 0600, where there is none. A file that others may read is refused. */
export function readOrMakeKey(file: string): KeyRead {
  try {
    mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
    const key = randomBytes(KEY_BYTES);
    // `wx` fails where the file exists: a key that a receiver already knows is never overwritten.
    writeFileSync(file, `${key.toString('hex')}\n`, { mode: 0o600, flag: 'wx' });
    return { key, made: true };
  } catch (error) {
    return codeOf(error) === 'EEXIST' ? readKey(file) : { fault: `${file}: ${codeOf(error)}` };
  }
}

function readKey(file: string): KeyRead {
  try {
    // Windows keeps rights elsewhere; its mode bits say nothing.
    if (process.platform !== 'win32' && (statSync(file).mode & 0o077) !== 0) {
      return { fault: `${file}: others may read it; chmod 600 it, or delete it and give the receiver the new key` };
    }
    const text = readFileSync(file, 'utf8').trim();
    const key = KEY_PATTERN.test(text) ? Buffer.from(text, 'hex') : undefined;
    return key === undefined || key.length < KEY_BYTES_MIN
      ? { fault: `${file}: expected at least ${KEY_BYTES_MIN * 2} hexadecimal digits` }
      : { key, made: false };
  } catch (error) {
    return { fault: `${file}: ${codeOf(error)}` };
  }
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : String(error);
}
