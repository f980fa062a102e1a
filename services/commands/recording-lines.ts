// A recording read piece by piece: the lines that came together, so that a million of them are not a million waits.
import { createReadStream } from 'node:fs';
import { openedAt } from './readable-file.ts';

const PIECE_BYTES = 1 << 20;
/** Twice the largest message that a broker takes, as base64. */
export const LINE_LENGTH_MAX = 4 * 1024 * 1024;

/**
 * Of a file, or of standard input for `-`. Throws where a line has no end.
 * @throws UnreadableFile at once: a stream would say it to nobody where its lines are not asked for
 */
export function linesOf(file: string): AsyncIterable<readonly string[]> {
  if (file === '-') return linesIn(process.stdin);
  return linesIn(createReadStream(file, { fd: openedAt(file), highWaterMark: PIECE_BYTES }));
}

export async function* linesIn(pieces: AsyncIterable<Uint8Array>): AsyncGenerator<readonly string[]> {
  const decoder = new TextDecoder();
  let rest = '';
  for await (const piece of pieces) {
    const lines = (rest + decoder.decode(piece, { stream: true })).split('\n');
    rest = lines.pop() ?? '';
    if (rest.length > LINE_LENGTH_MAX) {
      throw new Error(`this is no recording: a line is longer than ${LINE_LENGTH_MAX.toLocaleString('en')} characters`);
    }
    if (lines.length > 0) yield lines;
  }
  rest += decoder.decode();
  if (rest !== '') yield [rest];
}
