// Deliveries cross to the plant's thread in one buffer and come out as they went in.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { Packer, TopicNumbers, Unpacker } from '../../../services/plant/index.ts';

const delivery = fc.record(
  {
    // Some come again, as devices' topics do.
    topic: fc.oneof(fc.constantFrom('a/b', 'ä/ö'), fc.string({ unit: 'grapheme', maxLength: 60 })),
    payload: fc.uint8Array({ maxLength: 300 }),
    at: fc.integer({ min: 0, max: 8_640_000_000_000 }),
    connection: fc.nat({ max: 0xffff_ffff }),
    packetId: fc.integer({ min: 0, max: 65_535 }),
    dup: fc.boolean(),
  },
  { requiredKeys: ['topic', 'payload', 'at', 'connection', 'dup'] },
);

test('what went in comes out, in order', () => {
  fc.assert(
    fc.property(fc.array(fc.array(delivery, { maxLength: 12 }), { maxLength: 4 }), (batches) => {
      const topics = new TopicNumbers();
      const unpacker = new Unpacker();
      for (const deliveries of batches) {
        const packer = new Packer(topics, new ArrayBuffer(64));
        for (const { at, ...arriving } of deliveries) packer.add(arriving, at);
        const out = unpacker.unpack(packer.buffer, packer.length);
        expect(out.map((one) => ({ ...one, payload: [...one.payload] }))).toEqual(
          deliveries.map((one) => ({ ...one, payload: [...one.payload] })),
        );
      }
    }),
  );
});
