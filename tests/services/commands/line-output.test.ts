// Lines go out in order and in large pieces, at the pace of whoever reads, and a reader that left is told once.
import { Writable } from 'node:stream';
import { expect, test } from 'vitest';
import { LineOutput } from '../../../services/commands/line-output.ts';

test('in order, in few pieces', async () => {
  const pieces: string[] = [];
  const to = new Writable({
    decodeStrings: false,
    write: (piece: string, _encoding, done) => {
      pieces.push(piece);
      setImmediate(done);
    },
  });
  const out = new LineOutput(to);
  const lines = Array.from({ length: 20_000 }, (_, nth) => `line ${nth}`);
  for (const line of lines) {
    out.write(line);
    await out.keepUp();
  }
  await out.end();
  expect(pieces.join('')).toBe(`${lines.join('\n')}\n`);
  expect(pieces.length).toBeLessThan(10);
});

test('it waits for a slow reader', async () => {
  let finish: () => void = () => undefined;
  const to = new Writable({ write: (_piece, _encoding, done) => void (finish = done) });
  const out = new LineOutput(to);
  out.write('x'.repeat(100_000));
  let isThrough = false;
  const waiting = out.keepUp().then(() => (isThrough = true));
  await new Promise((resolve) => setImmediate(resolve));
  expect(isThrough).toBe(false);
  finish();
  await waiting;
  expect(isThrough).toBe(true);
});

test('nobody reads any more: whoever waits is told, and nothing else fails', async () => {
  const to = new Writable({ write: (_piece, _encoding, done) => done(new Error('EPIPE')) });
  to.on('error', () => undefined);
  const out = new LineOutput(to);
  out.write('x'.repeat(100_000));
  await new Promise((resolve) => setImmediate(resolve));
  out.write('y'.repeat(100_000));
  await expect(out.keepUp()).rejects.toThrow('EPIPE');
});
