// Acknowledgements that are due together leave together, in their order, and never to a connection that takes nothing.
import { Writable } from 'node:stream';
import type { Socket } from 'node:net';
import { expect, test } from 'vitest';
import {
  Acknowledgements,
  OwedAcknowledgements,
  type Acknowledged,
} from '../../../services/broker/acknowledgements.ts';

interface Lane extends Acknowledged {
  stage: string;
  readonly written: string[];
  /** Takes what was written but did not say so yet. */
  release(): void;
}

function lane(highWaterMark = 1024): Lane {
  const written: string[] = [];
  const held: (() => void)[] = [];
  const socket = new Writable({
    highWaterMark,
    write: (bytes: Buffer, _encoding, done) => {
      written.push(bytes.toString('hex'));
      held.push(done);
    },
  });
  const release = (): void => {
    for (const done of held.splice(0)) done();
  };
  return { socket: socket as unknown as Socket, owed: new OwedAcknowledgements(), stage: 'open', written, release };
}

const turnIsOver = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

test('one write for each connection at the end of the turn, ids in order', async () => {
  const acknowledgements = new Acknowledgements();
  const [one, other] = [lane(), lane()];
  expect(acknowledgements.add(one, 1)).toBe(true);
  expect(acknowledgements.add(other, 0xabcd)).toBe(true);
  expect(acknowledgements.add(one, 2)).toBe(true);
  expect(one.written).toEqual([]);
  await turnIsOver();
  expect(one.written).toEqual(['4002000140020002']);
  expect(other.written).toEqual(['4002abcd']);
  one.release();
  acknowledgements.add(one, 3);
  await turnIsOver();
  expect(one.written.slice(1)).toEqual(['40020003']);
});

test('one that takes nothing is left to the protocol, after what it was owed', async () => {
  const acknowledgements = new Acknowledgements();
  const slow = lane(8);
  acknowledgements.add(slow, 1);
  // Something else of ours fills it up before the turn is over.
  slow.socket.write(Buffer.alloc(20));
  expect(slow.socket.writableNeedDrain).toBe(true);
  expect(acknowledgements.add(slow, 2)).toBe(false);
  expect(slow.owed.isEmpty).toBe(true);
  await turnIsOver();
  slow.release();
  await turnIsOver();
  expect(slow.written).toEqual(['00'.repeat(20), '40020001']);
});

test('nothing is written to one that has gone', async () => {
  const acknowledgements = new Acknowledgements();
  const [gone, destroyed] = [lane(), lane()];
  acknowledgements.add(gone, 1);
  acknowledgements.add(destroyed, 1);
  gone.stage = 'closed';
  destroyed.socket.destroy();
  await turnIsOver();
  expect([gone.written, destroyed.written]).toEqual([[], []]);
});
