// Which sequences have come, against a plain set of all of them; and what happens at the bounds.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { BOOTS_PER_SOURCE_MAX, GAPS_PER_BOOT_MAX } from '../../../services/journal/limits.ts';
import { Sequences } from '../../../services/journal/sequences.ts';

const Q = '/plant/demo/device/q-1';

test('says of every sequence whether it is new, as a set of all of them would', () => {
  const arrivals = fc.array(fc.tuple(fc.constantFrom('b1', 'b2'), fc.nat({ max: 60 })), { maxLength: 200 });
  fc.assert(
    fc.property(arrivals, fc.nat({ max: 200 }), (messages, savedAfter) => {
      const all = new Set<string>();
      let sequences = new Sequences();
      messages.forEach(([boot, sequence], i) => {
        if (i === savedAfter) {
          const restored = new Sequences();
          restored.restore(JSON.parse(JSON.stringify(sequences.record())) as ReturnType<Sequences['record']>);
          sequences = restored;
        }
        expect(sequences.note(Q, boot, sequence)).toBe(!all.has(`${boot} ${sequence}`));
        all.add(`${boot} ${sequence}`);
      });
    }),
  );
});

test('a gap older than the most that are remembered counts as received', () => {
  const sequences = new Sequences();
  for (let gap = 0; gap <= GAPS_PER_BOOT_MAX; gap += 1) sequences.note(Q, 'b1', 2 * gap + 1);
  expect(sequences.note(Q, 'b1', 0)).toBe(false);
  expect(sequences.note(Q, 'b1', 2)).toBe(true);
  expect(sequences.note(Q, 'b1', 2)).toBe(false);
});

test('a gap filled in its middle leaves two, within the same bound', () => {
  const sequences = new Sequences();
  sequences.note(Q, 'b1', 10_000);
  for (let sequence = 1; sequence < 10_000; sequence += 2) expect(sequences.note(Q, 'b1', sequence)).toBe(true);
  const gaps = sequences.record()[0]?.[1][0]?.[2];
  expect(gaps).toHaveLength(2 * GAPS_PER_BOOT_MAX);
});

test('only so many boots of a source are remembered, the most recently heard of', () => {
  const sequences = new Sequences();
  sequences.note(Q, 'first', 1);
  for (let boot = 1; boot < BOOTS_PER_SOURCE_MAX; boot += 1) sequences.note(Q, `boot-${boot}`, 1);
  expect(sequences.note(Q, 'first', 1)).toBe(false);
  sequences.note(Q, 'one more', 1);
  expect(sequences.note(Q, 'first', 1)).toBe(false);
  expect(sequences.note(Q, 'boot-1', 1)).toBe(true);
});
