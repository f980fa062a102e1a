// The transform of real samples: against its definition, term by term, and its own way back.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { realFftOf, TRANSFORM_SAMPLES_MAX } from '../../../shared/vibration/real-fft.ts';
import { randomRow } from './rows.ts';

interface Lines {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

function transformed(samples: Float64Array): Lines {
  const lines = Math.floor(samples.length / 2) + 1;
  const re = new Float64Array(lines);
  const im = new Float64Array(lines);
  realFftOf(samples.length).forward(samples, re, im);
  return { re, im };
}

/** The definition, one sum a line. */
function byDefinition(samples: Float64Array): Lines {
  const size = samples.length;
  const lines = Math.floor(size / 2) + 1;
  const re = new Float64Array(lines);
  const im = new Float64Array(lines);
  for (let k = 0; k < lines; k += 1) {
    for (let n = 0; n < size; n += 1) {
      const angle = (2 * Math.PI * ((k * n) % size)) / size;
      re[k] = re[k]! + samples[n]! * Math.cos(angle);
      im[k] = im[k]! - samples[n]! * Math.sin(angle);
    }
  }
  return { re, im };
}

function greatestDifference(one: Lines, other: Lines): number {
  let greatest = 0;
  for (let k = 0; k < one.re.length; k += 1) {
    greatest = Math.max(greatest, Math.hypot(one.re[k]! - other.re[k]!, one.im[k]! - other.im[k]!));
  }
  return greatest;
}

describe('transform of real samples', () => {
  // Each butterfly alone and together, odd and even, a prime that goes by its definition, primes that go by the chirp.
  it.each([2, 3, 4, 5, 6, 7, 8, 9, 10, 16, 20, 22, 25, 26, 27, 34, 49, 60, 64, 98, 101, 121, 422, 480, 509, 1000])(
    'of %i samples is its definition',
    (size) => {
      const samples = randomRow(size, size);
      expect(greatestDifference(transformed(samples), byDefinition(samples))).toBeLessThan(2e-14 * size);
    },
  );

  it.each([2, 3, 17, 100, 4096, 25_600, 44_100, 40_009])('of %i samples is undone by its inverse', (size) => {
    const samples = randomRow(size, 7);
    const { re, im } = transformed(samples);
    const back = new Float64Array(size);
    realFftOf(size).inverse(re, im, back);
    const differences = back.map((x, n) => Math.abs(x - samples[n]!));
    expect(differences.reduce((most, x) => Math.max(most, x), 0)).toBeLessThan(1e-13);
  });

  it('leaves the samples alone', () => {
    const samples = randomRow(120, 3);
    const before = samples.slice();
    transformed(samples);
    expect(samples).toEqual(before);
  });

  it('keeps the sum of squares (Parseval)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 700 }), fc.integer({ min: 1, max: 1e6 }), (size, seed) => {
        const samples = randomRow(size, seed);
        const { re, im } = transformed(samples);
        let lines = 0;
        for (let k = 0; k < re.length; k += 1) {
          lines += (k === 0 || 2 * k === size ? 1 : 2) * (re[k]! ** 2 + im[k]! ** 2);
        }
        const sum = samples.reduce((total, x) => total + x * x, 0);
        expect(lines / size / sum).toBeCloseTo(1, 11);
      }),
    );
  });

  it('turns a shift in time into a turn of each line', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 300 }), fc.integer({ min: 0, max: 299 }), (size, steps) => {
        const samples = randomRow(size, size + steps);
        const shifted = samples.map((_, n) => samples[(n + steps) % size]!);
        const plain = transformed(samples);
        const turned = transformed(shifted);
        for (let k = 0; k < plain.re.length; k += 1) {
          const angle = (2 * Math.PI * ((k * steps) % size)) / size;
          const re = plain.re[k]! * Math.cos(angle) - plain.im[k]! * Math.sin(angle);
          const im = plain.re[k]! * Math.sin(angle) + plain.im[k]! * Math.cos(angle);
          expect(Math.hypot(turned.re[k]! - re, turned.im[k]! - im)).toBeLessThan(1e-11);
        }
      }),
    );
  });

  it('is linear', () => {
    const one = randomRow(360, 1);
    const other = randomRow(360, 2);
    const both = transformed(one.map((x, n) => 2 * x - 3 * other[n]!));
    const a = transformed(one);
    const b = transformed(other);
    const sum = { re: a.re.map((x, k) => 2 * x - 3 * b.re[k]!), im: a.im.map((x, k) => 2 * x - 3 * b.im[k]!) };
    expect(greatestDifference(both, sum)).toBeLessThan(1e-11);
  });

  it('refuses what has no length', () => {
    expect(() => realFftOf(1)).toThrow(/expected 2 to/);
    expect(() => realFftOf(12.5)).toThrow(/came 12.5/);
    expect(() => realFftOf(TRANSFORM_SAMPLES_MAX + 1)).toThrow(/expected 2 to/);
  });

  it('keeps the tables of a length, and not those of every length there ever was', () => {
    const first = realFftOf(1000);
    expect(realFftOf(1000)).toBe(first);
    for (let size = 2; size < 40; size += 1) realFftOf(size);
    expect(realFftOf(1000)).not.toBe(first);
  });
});
