// Every coding of a column gives back the same bits, whichever it chooses.
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ByteReader, ByteWriter } from '../../../services/journal/bytes.ts';
import {
  readDoubles,
  readIndexes,
  readIntegers,
  readSingles,
  readSmall,
  writeDoubles,
  writeIndexes,
  writeIntegers,
  writeSingles,
  writeSmall,
} from '../../../services/journal/columns.ts';

function throughBytes<T>(write: (to: ByteWriter) => void, read: (from: ByteReader) => T): T {
  const writer = new ByteWriter();
  // An odd start, so that nothing is aligned by luck.
  writer.byte(7);
  write(writer);
  const reader = new ByteReader(writer.taken());
  reader.byte();
  const value = read(reader);
  expect(reader.atEnd()).toBe(true);
  return value;
}

const repeated = <T>(one: fc.Arbitrary<T>): fc.Arbitrary<T[]> =>
  fc.oneof(
    fc.array(one, { maxLength: 300 }),
    fc.tuple(one, fc.nat({ max: 20 })).map(([v, n]) => Array<T>(n).fill(v)),
  );

const double = fc.oneof(
  fc.double(),
  fc.integer(),
  fc.maxSafeInteger(),
  fc.constantFrom(0, -0, 2 ** 51, -(2 ** 51), 2 ** 53),
);
const single = fc.oneof(
  fc.float(),
  fc.constantFrom(0, -0, Number.NaN, Number.POSITIVE_INFINITY, 65.535, 65.536).map(Math.fround),
  fc.tuple(fc.nat({ max: 70_000 }), fc.nat({ max: 6 })).map(([n, d]) => Math.fround(n / 10 ** d)),
);
const decimals = fc
  .tuple(fc.array(fc.nat({ max: 65_535 }), { maxLength: 100 }), fc.nat({ max: 5 }))
  .map(([ns, d]) => ns.map((n) => Math.fround(n / 10 ** d)));

describe('a column of', () => {
  test('integers, or numbers that turn out not to be', () => {
    fc.assert(
      fc.property(repeated(double), (values) => {
        const { length } = values;
        const back = throughBytes(
          (to) => writeIntegers(to, Float64Array.from(values), length),
          (from) => readIntegers(from, length),
        );
        expect(Array.from(back)).toStrictEqual(values);
      }),
    );
  });

  test.each(['fast', 'dense'] as const)('singles, written %s', (effort) => {
    fc.assert(
      fc.property(fc.oneof(repeated(single), decimals), (values) => {
        const { length } = values;
        const back = throughBytes(
          (to) => writeSingles(to, Float32Array.from(values), length, effort),
          (from) => readSingles(from, length),
        );
        expect(Array.from(back)).toStrictEqual(values);
      }),
    );
  });

  test('doubles, few or many', () => {
    const few = fc.array(fc.constantFrom(0, -0, 0.1, 0.25, Number.NEGATIVE_INFINITY), { maxLength: 300 });
    fc.assert(
      fc.property(fc.oneof(repeated(double), few, decimals), (values) => {
        const { length } = values;
        const back = throughBytes(
          (to) => writeDoubles(to, Float64Array.from(values), length),
          (from) => readDoubles(from, length),
        );
        expect(Array.from(back)).toStrictEqual(values);
      }),
    );
  });

  test('small numbers', () => {
    fc.assert(
      fc.property(repeated(fc.nat({ max: 255 })), (values) => {
        const { length } = values;
        const back = throughBytes(
          (to) => writeSmall(to, Uint8Array.from(values), length),
          (from) => readSmall(from, length),
        );
        expect(Array.from(back)).toStrictEqual(values);
      }),
    );
  });

  test.each([1, 256, 257, 65_536, 65_537, 3_000_000_000])('indexes into a list of %d', (size) => {
    fc.assert(
      fc.property(fc.array(fc.nat({ max: size - 1 })), (values) => {
        const { length } = values;
        const back = throughBytes(
          (to) => writeIndexes(to, Uint32Array.from(values), length, size),
          (from) => readIndexes(from, length),
        );
        expect(Array.from(back)).toStrictEqual(values);
      }),
    );
  });
});

test('counts of any size and texts of any kind', () => {
  fc.assert(
    fc.property(fc.maxSafeInteger().map(Math.abs), fc.string({ unit: 'grapheme', maxLength: 3000 }), (count, text) => {
      const back = throughBytes(
        (to) => {
          to.count(count);
          to.text(text);
        },
        (from) => [from.count(), from.text()],
      );
      expect(back).toStrictEqual([count, text]);
    }),
  );
});

test('a number with few decimals takes two bytes once it is merged', () => {
  const values = Float32Array.from({ length: 1000 }, (_, i) => i / 1000);
  const writer = new ByteWriter();
  writeSingles(writer, values, 1000, 'dense');
  expect(writer.length).toBeLessThan(2010);
});
