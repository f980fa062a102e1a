// Passwords are kept as scrypt hashes with their parameters, worked out in the thread pool, a few at a time.
import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';

/** With N=2^15 one of the choices of the OWASP Password Storage Cheat Sheet; 32 MiB a hash. */
const SHAPE = { blockSize: 8, parallelization: 3 } as const;
const SALT_BYTES = 16;
const KEY_BYTES = 32;
const MEMORY_MAX_BYTES = 128 * 1024 * 1024;

interface Parameters {
  readonly cost: number;
  readonly blockSize: number;
  readonly parallelization: number;
}

/** `scrypt$N$r$p$salt$key`; `cost` is N. */
export async function hashOfPassword(password: string, cost: number): Promise<string> {
  const salt = randomBytes(SALT_BYTES);
  const key = await derive(password, salt, { cost, ...SHAPE });
  const { blockSize, parallelization } = SHAPE;
  return ['scrypt', cost, blockSize, parallelization, salt.toString('base64url'), key.toString('base64url')].join('$');
}

export async function passwordMatches(password: string, stored: string): Promise<boolean> {
  const [name, cost, blockSize, parallelization, salt, key] = stored.split('$');
  if (name !== 'scrypt' || salt === undefined || key === undefined) throw new Error('unknown kind of password hash');
  const expected = Buffer.from(key, 'base64url');
  const found = await derive(password, Buffer.from(salt, 'base64url'), {
    cost: Number(cost),
    blockSize: Number(blockSize),
    parallelization: Number(parallelization),
  });
  return timingSafeEqual(found, expected);
}

/** Spends the time of a real comparison, so that an unknown name takes as long to refuse as a wrong password. */
export async function spendAsMuch(password: string, cost: number): Promise<false> {
  await derive(password, Buffer.alloc(SALT_BYTES), { cost, ...SHAPE });
  return false;
}

function derive(password: string, salt: Buffer, parameters: Parameters): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    // The same letters typed on different systems may come composed or decomposed.
    const normal = password.normalize('NFC');
    scrypt(normal, salt, KEY_BYTES, { ...parameters, maxmem: MEMORY_MAX_BYTES }, (error, key) => {
      if (error === null) resolve(key);
      else reject(error);
    });
  });
}
