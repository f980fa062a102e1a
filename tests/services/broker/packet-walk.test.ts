// The walk over packets is checked against a plain reading of the whole stream, however it is cut.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { CLOSE, PacketWalk, type PacketGate } from '../../../services/broker/packet-walk.ts';

/** A packet of this type with so many bytes of body. */
function packet(firstByte: number, bodyLength: number): Buffer {
  const header = [firstByte];
  let left = bodyLength;
  do {
    header.push((left % 128) | (left >= 128 ? 0x80 : 0));
    left = Math.floor(left / 128);
  } while (left > 0);
  return Buffer.concat([Buffer.from(header), Buffer.alloc(bodyLength, 0xaa)]);
}

const packets = fc.array(fc.tuple(fc.integer({ min: 0, max: 255 }), fc.integer({ min: 0, max: 400 })), {
  maxLength: 20,
});
const cuts = fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 1, maxLength: 40 });

function gateThat(begin: PacketGate['begin'], isShut: () => boolean = () => false): PacketGate {
  return {
    get shut() {
      return isShut();
    },
    begin,
    malformed: () => undefined,
  };
}

test('every packet is seen once, with its type and length, wherever the stream is cut', () => {
  fc.assert(
    fc.property(packets, cuts, (all, sizes) => {
      const stream = Buffer.concat(all.map(([type, length]) => packet(type, length)));
      const seen: [number, number][] = [];
      const walk = new PacketWalk();
      const gate = gateThat((type, length) => {
        seen.push([type, length]);
        return 'pass';
      });
      for (let at = 0, n = 0; at < stream.length; n++) {
        const chunk = stream.subarray(at, at + (sizes[n % sizes.length] ?? 1));
        expect(walk.through(chunk, gate)).toBe(chunk.length);
        at += chunk.length;
        expect(walk.unfinished).toBe(isInside(all, at));
      }
      expect(seen).toEqual(all);
    }),
  );
});

/** Whether byte number `at` of the stream is within a packet, not between two. */
function isInside(all: readonly (readonly [number, number])[], at: number): boolean {
  let end = 0;
  for (const [type, length] of all) {
    if (at <= end) break;
    end += packet(type, length).length;
  }
  return at !== end;
}

test('what has to wait is cut exactly between packets, and nothing is seen twice or lost when it goes on', () => {
  fc.assert(
    fc.property(packets, cuts, fc.infiniteStream(fc.boolean()), (all, sizes, refusals) => {
      const stream = Buffer.concat(all.map(([type, length]) => packet(type, length)));
      const seen: [number, number][] = [];
      const walk = new PacketWalk();
      const gate = gateThat((type, length, mayWait) => {
        if (mayWait && refusals.next().value === true) return 'wait';
        seen.push([type, length]);
        return 'pass';
      });
      for (let at = 0, n = 0; at < stream.length; n++) {
        const passed = walk.through(stream.subarray(at, at + (sizes[n % sizes.length] ?? 1)), gate);
        at += passed;
      }
      expect(seen).toEqual(all);
    }),
  );
});

test('nothing begins while the gate is shut, but what has begun goes on to its end', () => {
  const walk = new PacketWalk();
  let isShut = false;
  const gate = gateThat(
    () => {
      isShut = true;
      return 'pass';
    },
    () => isShut,
  );
  const stream = Buffer.concat([packet(0x10, 20), packet(0x30, 5)]);
  expect(walk.through(stream.subarray(0, 10), gate)).toBe(10);
  expect(walk.through(stream.subarray(10), gate)).toBe(12);
  expect(walk.through(stream.subarray(22), gate)).toBe(0);
});

test('a length of more than four bytes is malformed (MQTT 3.1.1, 2.2.3)', () => {
  const longest = Buffer.from([0x30, 0xff, 0xff, 0xff, 0x7f]);
  const lengths: number[] = [];
  const gate = gateThat((_type, length) => {
    lengths.push(length);
    return 'pass';
  });
  expect(new PacketWalk().through(longest, gate)).toBe(5);
  // The table of that section gives 268,435,455 as the largest.
  expect(lengths).toEqual([268_435_455]);
  expect(new PacketWalk().through(Buffer.from([0x30, 0xff, 0xff, 0xff, 0xff, 0x01]), gate)).toBe(CLOSE);
});
