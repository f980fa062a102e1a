// A block gives back exactly what went in, whatever it was: live and in replay the rules see the same bits.
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Draft, Entry } from '../../../shared/entries.ts';
import { asKept } from '../../../services/journal/index.ts';
import { entryAsKept } from '../../../services/journal/as-kept.ts';
import { decodeEntries, encodeEntries } from '../../../services/journal/block.ts';
import { decodeOutcomes, encodeOutcomes } from '../../../services/journal/outcomes.ts';
import type { Origin } from '../../../services/journal/streams.ts';
import { anyDraft, anyOutcomes, ENTRY_KINDS } from './arbitraries.ts';

const FIRST = 1001;

const anyOrigin: fc.Arbitrary<Origin | undefined> = fc.option(
  fc.record(
    {
      by: fc.constantFrom('id', 'sequence', 'recent-id'),
      source: fc.constantFrom('/plant/demo/device/sensor-1', '/plant/other/device/sensor-1', '', 'sensor-2'),
    },
    { noNullPrototype: true },
  ),
  { nil: undefined },
);

function placedInOrder(drafts: readonly Draft[]): readonly Entry[] {
  let at = 0;
  return drafts.map((draft, i) => {
    at = Math.max(at, draft.at);
    return entryAsKept(draft, FIRST + i, at);
  });
}

describe.each(['fast', 'dense'] as const)('a block written %s', (effort) => {
  test('gives back every kind of entry bit for bit, in order, with how its repeat is known', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(anyDraft, anyOrigin), { maxLength: 60 }), (pairs) => {
        const entries = placedInOrder(pairs.map(([draft]) => draft));
        const origins = pairs.map(([, origin]) => origin);
        const block = decodeEntries(encodeEntries({ entries, origins }, effort), FIRST, true);
        expect(block.entries).toStrictEqual(entries);
        // Even the order of fields: what rules write down of an entry must not depend on where it came from.
        expect(JSON.stringify(block.entries)).toBe(JSON.stringify(entries));
        expect(block.origins).toStrictEqual(origins);
      }),
      { numRuns: 300 },
    );
  });

  test('keeps thousands of streams apart', () => {
    const entries = Array.from({ length: 70_000 }, (_, i) =>
      entryAsKept(
        { at: i, kind: 'machine', device: `m-${i}`, id: 'x', data: { spindleId: `S-${i % 7}` } },
        FIRST + i,
        i,
      ),
    );
    const origins = entries.map(() => undefined);
    expect(decodeEntries(encodeEntries({ entries, origins }, effort), FIRST).entries).toStrictEqual(entries);
  });
});

test('outcomes come back bit for bit, in the order in which they were made', () => {
  const batches = fc
    .array(anyDraft, { minLength: 1, maxLength: 30 })
    .map(placedInOrder)
    .chain((entries) => anyOutcomes(entries));
  fc.assert(
    fc.property(batches, (outcomes) => {
      const bytes = encodeOutcomes(outcomes, FIRST);
      expect(bytes === undefined ? [] : decodeOutcomes(bytes, FIRST)).toStrictEqual(outcomes);
    }),
    { numRuns: 300 },
  );
});

test('keeping what is already kept changes nothing', () => {
  fc.assert(
    fc.property(anyDraft, (draft) => {
      const once = asKept(draft);
      expect(asKept(once)).toStrictEqual(once);
    }),
  );
});

test('quantities of readings are of single precision, and an id is made of boot and sequence', () => {
  const kept = asKept({
    at: 5,
    kind: 'summary',
    device: 'sensor-1',
    id: 'e7c1',
    bootId: 'b1',
    sequence: 12,
    data: { speedRpm: 12_000, overallMmS: 0.1 },
  });
  expect(kept).toStrictEqual({
    at: 5,
    kind: 'summary',
    device: 'sensor-1',
    id: 'b1-12',
    bootId: 'b1',
    sequence: 12,
    data: { speedRpm: 12_000, overallMmS: Math.fround(0.1) },
  });
});

test('every kind of entry is among those tried', () => {
  const kinds = new Set(fc.sample(anyDraft, { numRuns: 2000, seed: 7 }).map(({ kind }) => kind));
  expect([...kinds].toSorted()).toStrictEqual([...ENTRY_KINDS].toSorted());
});

test('a block of a format of the future is refused, not misread', () => {
  expect(() => decodeEntries(Buffer.of(99, 0), 1)).toThrow('format');
  expect(() => decodeOutcomes(Buffer.of(99, 0), 1)).toThrow('format');
});

test('a block that was cut short is refused', () => {
  const entries = placedInOrder([
    { at: 1, kind: 'tick' },
    { at: 2, kind: 'state', device: 'q', id: '1', data: { online: true } },
  ]);
  const bytes = encodeEntries({ entries, origins: [undefined, undefined] }, 'fast');
  expect(() => decodeEntries(bytes.subarray(0, -1), 1)).toThrow('too early');
});
