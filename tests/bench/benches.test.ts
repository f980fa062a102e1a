// The figures have names that stay, and docs/benchmarks.md says of each what it means and what was measured.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { BENCHES } from './benches.ts';
import { median, quantile } from './figure.ts';

const DOCUMENT = readFileSync(new URL('../../docs/benchmarks.md', import.meta.url), 'utf8');
const FIGURES = BENCHES.flatMap(({ figures }) => figures);

test('names are told apart', () => {
  const names = FIGURES.map(({ name }) => name);
  expect(new Set(names).size).toBe(names.length);
  for (const name of names) expect(name).toMatch(/^[a-z]+\.[a-z0-9_]+$/);
});

test('the promised figures are measured', () => {
  const names = FIGURES.map(({ name }) => name);
  expect(names).toEqual(
    expect.arrayContaining([
      'ingest.ratio_to_bare_broker',
      'ack.p99_ms_at_2000',
      'hold.p99_ms_at_2000',
      'cpu.share_2000_spindles',
      'memory.mb_2000_spindles',
      'gate.p99_ms',
      'advice.p99_ms',
      'waveform.ratio_to_scipy',
    ]),
  );
});

test.each(FIGURES)('$name is in the document, with its method', ({ name, method }) => {
  expect(DOCUMENT).toContain(`\`${name}\``);
  expect(method.length).toBeGreaterThan(40);
});

test('a median is the middle one, or between the two in the middle', () => {
  expect(median([3, 1, 2])).toBe(2);
  expect(median([4, 1, 3, 2])).toBe(2.5);
});

test('a quantile is one of the values: as many as that part of them are no greater', () => {
  const hundred = Array.from({ length: 100 }, (_, index) => 100 - index);
  expect([0, 0.5, 0.99, 1].map((part) => quantile(hundred, part))).toEqual([1, 50, 99, 100]);
  expect(quantile([5, 1, 3], 0.5)).toBe(3);
  expect(quantile([5, 1, 3], 0.99)).toBe(5);
  expect(quantile([], 0.5)).toBeNaN();
});
