// A recording read piece by piece gives the same lines wherever the pieces end.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { LINE_LENGTH_MAX, linesIn } from '../../../services/commands/recording-lines.ts';

async function* pieces(bytes: Uint8Array, ends: readonly number[]): AsyncGenerator<Uint8Array> {
  let from = 0;
  for (const end of [...ends.map((end) => end % (bytes.length + 1)).toSorted((a, b) => a - b), bytes.length]) {
    yield bytes.subarray(from, end);
    from = Math.max(from, end);
  }
}

async function linesOf(bytes: Uint8Array, ends: readonly number[] = []): Promise<string[]> {
  const lines: string[] = [];
  for await (const some of linesIn(pieces(bytes, ends))) lines.push(...some);
  return lines;
}

test('whatever the pieces, also through the middle of a character', async () => {
  const line = fc.string({ unit: 'grapheme', maxLength: 12 }).map((text) => text.replaceAll(/[\n\uFEFF]/g, ' '));
  await fc.assert(
    fc.asyncProperty(fc.array(line), fc.array(fc.nat(200), { maxLength: 8 }), async (lines, ends) => {
      const bytes = new TextEncoder().encode(lines.map((one) => `${one}\n`).join(''));
      expect(await linesOf(bytes, ends)).toEqual(lines);
    }),
  );
});

test('a last line without its end counts, a mark of the byte order does not', async () => {
  expect(await linesOf(Buffer.from('\uFEFFa\nb'))).toEqual(['a', 'b']);
  expect(await linesOf(Buffer.from(''))).toEqual([]);
});

test('a line without end is refused before it fills the memory', async () => {
  const endless = new Uint8Array(LINE_LENGTH_MAX + 1).fill(0x61);
  await expect(linesOf(endless)).rejects.toThrow(/this is no recording: a line is longer than 4,194,304 characters/);
});
