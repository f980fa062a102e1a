// An export says what the journal holds, each entry a line with its position; and everything that can be read can be written.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { exportLines } from '../../../services/recording/index.ts';
import { openJournal } from '../../../services/journal/index.ts';
import type { Draft } from '../../../shared/entries.ts';
import { RecordedLine } from '../../../shared/recording.ts';
import { Rfc3339 } from '../../../shared/time-schema.ts';
import { instantOf, rfc3339Of } from '../../../shared/time.ts';
import { PLANT, START } from './running-plant.ts';

async function journalOf(...drafts: readonly Draft[]) {
  const journal = await openJournal({ store: 'memory' });
  await journal.append(
    drafts.map((draft) => ({ draft })),
    () => [],
  );
  return journal;
}

const tick = (atMs: number): Draft => ({ kind: 'tick', at: START + atMs });

test('a part of it: from one position to another', async () => {
  const journal = await journalOf(tick(0), tick(1), tick(2), tick(3));
  const positions: (number | undefined)[] = [];
  for await (const line of exportLines(journal, PLANT, 2, 3)) positions.push(line.position);
  expect(positions).toEqual([2, 3]);
});

test('rejected bytes that are no longer kept still say that they came, and why', async () => {
  const problem = 'urn:counterpoise:problem:not-json';
  const journal = await journalOf({ kind: 'rejected', at: START, device: 'd', channel: 'build', problem, bytes: 3 });
  for await (const line of exportLines(journal, PLANT)) {
    expect(line).toMatchObject({ topic: 'd/build', base64: '', problem: { type: problem } });
    expect(RecordedLine.safeParse(line).success).toBe(true);
  }
});

test('any time that a message may carry is written so that it reads the same', () => {
  const two = (max: number) => fc.integer({ min: 0, max }).map((n) => String(n).padStart(2, '0'));
  const time = fc
    .tuple(
      fc.integer({ min: 0, max: 9999 }),
      fc.constantFrom('01-01', '12-31'),
      two(23),
      fc.constantFrom('+', '-'),
      two(23),
    )
    .map(
      ([year, day, hour, sign, offset]) =>
        `${String(year).padStart(4, '0')}-${day}T${hour}:59:59.999${sign}${offset}:59`,
    );
  fc.assert(
    fc.property(
      fc.oneof(time, fc.constantFrom('0000-01-01T00:00:00+23:59', '9999-12-31T23:59:59.999-23:59')),
      (text) => {
        expect(Rfc3339.safeParse(text).success).toBe(true);
        const written = rfc3339Of(instantOf(text));
        expect(Rfc3339.safeParse(written).success).toBe(true);
        expect(instantOf(written)).toBe(instantOf(text));
      },
    ),
  );
});
