// The record against a plain list of acts and decisions: none missing, none twice, in order, across every border of its pages.
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { openJournal, openReader, type JournalSettings } from '../../../services/journal/index.ts';
import { Trends, type RecordAsked } from '../../../services/trends/index.ts';
import type { RecordLine } from '../../../shared/record.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { startPostgres, type Postgres } from '../../environment/postgres.ts';
import { newJournal } from './plant.ts';
import { happened, NIGHT, writeActs, type Happened } from './record-samples.ts';

const folders: Folder[] = [];
let server: Postgres;
beforeAll(async () => void (server = await startPostgres()));
afterAll(() => server.stop());
afterEach(() => folders.splice(0).forEach((folder) => folder.remove()));

function newFolder(): string {
  const folder = makeFolder('record');
  folders.push(folder);
  return folder.path;
}

const nameOf = ({ position, kind }: RecordLine): string => `${position} ${kind}`;

/** Page by page, as a reader goes back. */
function allLines(trends: Trends, asked: Omit<RecordAsked, 'before'>): RecordLine[] {
  const lines: RecordLine[] = [];
  for (;;) {
    const last = lines.at(-1);
    const page = trends.record({ ...asked, ...(last === undefined ? {} : { before: last }) });
    lines.push(...page.lines);
    if (!page.more) return lines;
    expect(page.lines).toHaveLength(asked.limit);
  }
}

const commits = fc.array(fc.array(happened, { minLength: 1, maxLength: 12 }), { minLength: 1, maxLength: 4 });

test('its pages are the acts and decisions of the journal, newest first, none twice, wherever it was stopped', async () => {
  await fc.assert(
    fc.asyncProperty(commits, fc.integer({ min: 1, max: 7 }), fc.boolean(), async (batches, limit, stops) => {
      const journal = await newJournal();
      const file = join(newFolder(), 'trends.sqlite');
      let trends = await Trends.open(journal, file);
      const expected: string[] = [];
      for (const [index, batch] of batches.entries()) {
        expected.push(...(await writeActs(journal, batch, NIGHT + index * 200_000_000)));
        await trends.catchUp();
        if (!stops) continue;
        await trends.close();
        trends = await Trends.open(journal, file);
      }
      const lines = allLines(trends, { limit });
      expect(lines.map(nameOf)).toEqual(expected.toReversed());
      expect(new Set(lines.map(({ position, ordinal }) => `${position}.${ordinal}`)).size).toBe(lines.length);
      await trends.close();
      await journal.close();
    }),
    { numRuns: 30 },
  );
});

test('asked for by person, by what it is about, by kind or by days, it is what a plain look through all of it finds', async () => {
  const question = fc.record(
    {
      by: fc.constantFrom('mara', 'jens', 'nobody'),
      about: fc.constantFrom('H-1-1', 'S-1', 'S-2', 'A-7', 'bench-2', 'X'),
      kinds: fc.subarray(['hold-act', 'hold-raised', 'hold-ended', 'limit-ahead', 'doubt-lifted'] as const, {
        minLength: 1,
      }),
      from: fc.integer({ min: NIGHT, max: NIGHT + 400_000_000 }),
      to: fc.integer({ min: NIGHT, max: NIGHT + 900_000_000 }),
    },
    { requiredKeys: [] },
  );
  await fc.assert(
    fc.asyncProperty(commits, question, fc.integer({ min: 1, max: 5 }), async (batches, asked, limit) => {
      const journal = await newJournal();
      const trends = await Trends.open(journal, join(newFolder(), 'trends.sqlite'));
      for (const [index, batch] of batches.entries()) await writeActs(journal, batch, NIGHT + index * 200_000_000);
      await trends.catchUp();
      const { by, about, kinds, from = 0, to = Number.MAX_SAFE_INTEGER } = asked;
      const plainly = allLines(trends, { limit: 1000 }).filter(
        (line) =>
          (by === undefined || line.by === by) &&
          (about === undefined || line.about.some(({ id }) => id === about)) &&
          (kinds === undefined || (kinds as readonly string[]).includes(line.kind)) &&
          line.at >= from &&
          line.at < to,
      );
      expect(allLines(trends, { ...asked, limit })).toEqual(plainly);
      await trends.close();
      await journal.close();
    }),
    { numRuns: 40 },
  );
});

/** A hold raised on a reading, looked at, ended; a doubt lifted; one told by mail. */
const STORY: readonly Happened[] = [
  { what: 1, afterMs: 0, said: [0, 9] },
  { what: 2, afterMs: 1000, said: [1] },
  { what: 5, afterMs: 0, said: [] },
  { what: 0, afterMs: 0, said: [5, 6, 7] },
  { what: 2, afterMs: 1000, said: [4, 2] },
  { what: 3, afterMs: 90_000_000, said: [3] },
  { what: 4, afterMs: 0, said: [] },
];

describe('whichever store the journal is in', () => {
  const inStores: readonly (readonly [string, () => Promise<JournalSettings>])[] = [
    ['sqlite', async () => ({ store: 'sqlite', file: join(newFolder(), 'journal.sqlite') })],
    ['postgres', async () => ({ store: 'postgres', url: await server.freshDatabase('record') })],
  ];

  test.each(inStores)('%s: lines say who, what, about what, in whose words', async (_name, newSettings) => {
    const settings = await newSettings();
    const journal = await openJournal(settings);
    const expected = await writeActs(journal, STORY, NIGHT);
    const reader = await openReader(settings);
    const trends = await Trends.open(reader, join(newFolder(), 'trends.sqlite'));
    await trends.catchUp();
    const lines = allLines(trends, { limit: 3 }).toReversed();
    expect(lines.map(nameOf)).toEqual(expected);
    const about = [
      { kind: 'hold', id: 'H-1-1' },
      { kind: 'spindle', id: 'S-1' },
      { kind: 'assembly', id: 'A-7' },
    ];
    expect(lines.slice(0, 4)).toEqual([
      { position: 1, ordinal: 1, at: NIGHT, kind: 'hold-raised', about, facts: { reason: 'overall-over-limit' } },
      {
        position: 2,
        ordinal: 0,
        at: NIGHT + 1000,
        kind: 'hold-act',
        by: 'mara',
        about,
        note: 'looked',
        facts: { act: 'check', found: 'bearing' },
      },
      { position: 2, ordinal: 1, at: NIGHT + 1000, kind: 'hold-stepped', by: 'mara', about, facts: { state: 'taken' } },
      {
        position: 3,
        ordinal: 0,
        at: NIGHT + 1000,
        kind: 'notice-try',
        by: 'counterpoise',
        isService: true,
        about,
        facts: { channel: 'mail', outcome: 'sent', attempt: 1 },
      },
    ]);
    expect(lines.find(({ kind }) => kind === 'act-refused')).toMatchObject({
      by: 'mara',
      facts: { why: 'It has ended.' },
    });
    // To whom a notice went stands in the entry itself.
    expect(JSON.stringify(lines)).not.toContain('example.org');
    await trends.close();
    await reader.close();
    await journal.close();
  });
});

test('of a journal that lost its end, what was read of the end is forgotten', async () => {
  const file = join(newFolder(), 'trends.sqlite');
  const whole = await newJournal();
  await writeActs(whole, STORY.slice(0, 2), NIGHT);
  const before = await Trends.open(whole, file);
  await before.catchUp();
  await before.close();
  await writeActs(whole, STORY.slice(2), NIGHT + 5000);
  // Read, and not yet counted as read: as at a power cut.
  const cut = await Trends.open(whole, file);
  await cut.catchUp();
  const short = await newJournal();
  await writeActs(short, STORY.slice(0, 2), NIGHT);
  const after = await Trends.open(short, file);
  expect(allLines(after, { limit: 100 })).toHaveLength(3);
  await after.close();
  await cut.close();
  await whole.close();
  await short.close();
});
