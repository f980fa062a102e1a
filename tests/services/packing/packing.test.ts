// Packed and unpacked, every window is what it was, bit for bit; what packing saves on recordings of real machines.
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { packCounts, unpackCounts } from '../../../services/packing/index.ts';

const bytesOf = (values: Int16Array | Float32Array): Uint8Array =>
  new Uint8Array(values.buffer, values.byteOffset, values.byteLength);

/** A line in noise, of a converter with 16 bits. */
function turning(samples: number, amplitude: number, noise: number): Int16Array {
  let state = 4711;
  const chance = (): number => ((state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0) / 2 ** 31) * noise;
  return Int16Array.from({ length: samples }, (_, n) =>
    Math.round(amplitude * Math.sin(n / 40) + chance() + chance() + chance()),
  );
}

describe('nothing is lost', () => {
  test('whatever the counts: int16', () => {
    fc.assert(
      fc.property(fc.int16Array({ minLength: 0, maxLength: 600 }), (values) => {
        const packed = packCounts(bytesOf(values), 'int16');
        expect(packed === undefined ? bytesOf(values) : unpackCounts(packed, 'int16')).toEqual(bytesOf(values));
      }),
    );
  });

  test('whatever walks slowly, through the ends of its range too: int16 and float32', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -200, max: 200 }), { minLength: 400, maxLength: 600 }), (steps) => {
        const walk = Int16Array.from(steps, (_, n) => steps.slice(0, n + 1).reduce((sum, step) => sum + step, 32_700));
        for (const [counts, encoding] of [
          [bytesOf(walk), 'int16'],
          [bytesOf(Float32Array.from(walk, (value) => value / 3)), 'float32'],
        ] as const) {
          const packed = packCounts(counts, encoding);
          expect(packed).toBeDefined();
          expect(packed && unpackCounts(packed, encoding)).toEqual(counts);
        }
      }),
      { numRuns: 30 },
    );
  });

  test('every bit of a float: signs of zero, the smallest, no number', () => {
    const odd = [0, -0, 1.401298464324817e-45, -3.4028234663852886e38, Number.NaN, Number.POSITIVE_INFINITY];
    const values = Float32Array.from({ length: 3000 }, (_, n) => (n % 3 === 0 ? (odd[(n / 3) % odd.length] ?? 0) : 1));
    const packed = packCounts(bytesOf(values), 'float32');
    expect(packed && unpackCounts(packed, 'float32')).toEqual(bytesOf(values));
  });
});

test('what would not become smaller is left as it is', () => {
  expect(packCounts(new Uint8Array(0), 'int16')).toBeUndefined();
  const noise = bytesOf(turning(4096, 0, 11_000));
  expect(packCounts(noise, 'int16')?.length ?? noise.length).toBeLessThanOrEqual(noise.length);
});

test('bytes that are no whole counts, or packed by nobody here, are said so', () => {
  expect(() => packCounts(new Uint8Array(3), 'int16')).toThrow('expected whole counts of 2 bytes, got 3 bytes');
  expect(() => unpackCounts(Uint8Array.of(9, 1, 2), 'int16')).toThrow('a way that this release does not know');
  expect(() => unpackCounts(Uint8Array.of(1, 1, 255), 'int16')).toThrow('invalid block type');
});

test('a signal that repeats itself, or takes few values, takes next to nothing', () => {
  const steps = Int16Array.from({ length: 65_536 }, (_, n) => (n % 640 < 320 ? 12_345 : -12_345) + (n % 7));
  const counts = bytesOf(steps);
  const packed = packCounts(counts, 'int16');
  expect((packed?.length ?? Infinity) / counts.length).toBeLessThan(0.05);
  expect(packed && unpackCounts(packed, 'int16')).toEqual(counts);
});

test('a quiet signal of a wide converter takes little more than half', () => {
  const counts = bytesOf(turning(65_536, 300, 40));
  expect((packCounts(counts, 'int16')?.length ?? Infinity) / counts.length).toBeLessThan(0.6);
});

/** A motor bench with known faults: tests/shared/vibration/measured/adi-cbm-motor/README.md says where they come from. */
const MEASURED = new URL('../../shared/vibration/measured/adi-cbm-motor/', import.meta.url);
const RECORDINGS = readdirSync(MEASURED).filter((name) => name.endsWith('.f32'));
/** Of a converter of 16 bits over ± 40 g. */
const COUNT_G = 40 / 32_768;

test.each(RECORDINGS)('of a real machine: %s, as counts of 16 bits and in single precision', (name) => {
  const singles = Uint8Array.from(readFileSync(new URL(name, MEASURED)));
  const counts = bytesOf(Int16Array.from(new Float32Array(singles.buffer), (g) => Math.round(g / COUNT_G)));
  for (const [plain, encoding, most] of [
    [counts, 'int16', 0.88],
    [singles, 'float32', 0.9],
  ] as const) {
    const packed = packCounts(plain, encoding);
    expect((packed?.length ?? Infinity) / plain.length, encoding).toBeLessThan(most);
    expect(packed && Buffer.compare(unpackCounts(packed, encoding), plain), encoding).toBe(0);
  }
});
