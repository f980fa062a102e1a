// Raw windows in CBOR and JSON: the same window whichever way it comes, and a coded refusal of everything else.
import { encode, Token, Type } from 'cborg';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createIntake, type Delivered, type Taken } from '../../../services/intake/index.ts';
import { WAVE_SAMPLES_LARGE_MAX } from '../../../shared/messages/index.ts';

const COUNTS = Int16Array.from({ length: 256 }, (_, n) => n * 200 - 25_000);
const LITTLE = new Uint8Array(COUNTS.buffer);
const FLOATS = new Uint8Array(Float32Array.from(COUNTS, (count) => count / 8).buffer);
const base64 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64');
const swapped = (bytes: Uint8Array, width: 2 | 4): Uint8Array =>
  width === 2 ? Buffer.from(bytes).swap16() : Buffer.from(bytes).swap32();

class Tagged {
  readonly tag: number;
  readonly content: unknown;

  constructor(tag: number, content: unknown) {
    this.tag = tag;
    this.content = content;
  }
}

const typeEncoders = {
  Object: (value: unknown) => {
    if (!(value instanceof Tagged)) return null;
    const content = value.content instanceof Uint8Array ? new Token(Type.bytes, value.content) : text(value.content);
    return [new Token(Type.tag, value.tag), content];
  },
};
const text = (value: unknown): Token => new Token(Type.string, String(value));
const cbor = (value: unknown): Uint8Array => encode(value, { typeEncoders });

const DATA = { spindleId: 'S-1', channel: 'radial-x', sampleRateHz: 25_600, scaleMS2: 0.01 };
const sealed = (data: object): object => ({
  specversion: '1.0',
  id: 'w-1',
  source: '/plant/p/device/q-1',
  type: 'counterpoise.vibration.wave.v1',
  time: '2026-11-24T07:31:05.120Z',
  data: { ...DATA, ...data },
});

function take(payload: Uint8Array, channel = 'wave'): Taken {
  const intake = createIntake({ plant: 'p', boot: 'b' });
  const delivered: Delivered = {
    topic: `counterpoise/v1/p/in/q-1/${channel}`,
    payload,
    at: 5,
    connection: 1,
    dup: false,
  };
  return intake.take(delivered);
}

const json = (value: unknown): Uint8Array => Buffer.from(JSON.stringify(value));
const keptOf = ({ arrival, problem }: Taken): unknown => problem ?? [arrival?.draft, Array.from(arrival?.counts ?? [])];
const asJson = (bytes: Uint8Array, encoding: string): unknown =>
  keptOf(take(json(sealed({ encoding, samples: base64(bytes) }))));

describe('the same window', () => {
  const asInt16 = asJson(LITTLE, 'int16');
  test.each([
    ['int16, little-endian', { samples: new Tagged(77, LITTLE) }, 'int16'],
    ['int16, big-endian', { samples: new Tagged(73, swapped(LITTLE, 2)) }, 'int16'],
    ['with the encoding said again', { encoding: 'int16', samples: new Tagged(77, LITTLE) }, 'int16'],
    ['bytes, with their encoding', { encoding: 'int16', samples: LITTLE }, 'int16'],
    ['base64 as in JSON', { encoding: 'int16', samples: base64(LITTLE) }, 'int16'],
    ['float32, little-endian', { samples: new Tagged(85, FLOATS) }, 'float32'],
    ['float32, big-endian', { samples: new Tagged(81, swapped(FLOATS, 4)) }, 'float32'],
  ])('%s', (_name, data, encoding) => {
    const kept = keptOf(take(cbor(sealed(data))));
    expect(kept).toEqual(encoding === 'int16' ? asInt16 : asJson(FLOATS, 'float32'));
    expect(kept).toMatchObject([
      { data: { encoding, sampleCount: 256 } },
      { length: encoding === 'int16' ? 512 : 1024 },
    ]);
  });

  test('says that it is CBOR', () => {
    const payload = Buffer.concat([Buffer.from('d9d9f7', 'hex'), cbor(sealed({ samples: new Tagged(77, LITTLE) }))]);
    expect(keptOf(take(payload))).toEqual(asInt16);
  });

  test('written by hand: a map of five, a typed array of 512 bytes under tag 77 (RFC 8746)', () => {
    const hex = [
      'a5',
      '67', // 'channel'
      Buffer.from('channel').toString('hex'),
      '61',
      '78', // 'x'
      '6c',
      Buffer.from('sampleRateHz').toString('hex'),
      '196400', // 25,600
      '68',
      Buffer.from('scaleMS2').toString('hex'),
      'f93800', // half precision 0.5
      '69',
      Buffer.from('spindleId').toString('hex'),
      '63',
      Buffer.from('S-1').toString('hex'),
      '67',
      Buffer.from('samples').toString('hex'),
      'd84d590200', // tag 77, 512 bytes
      Buffer.from(LITTLE).toString('hex'),
    ];
    const { arrival, remarks } = take(Buffer.from(hex.join(''), 'hex'));
    expect(arrival?.draft).toMatchObject({
      data: { channel: 'x', sampleRateHz: 25_600, scaleMS2: 0.5, encoding: 'int16', sampleCount: 256 },
    });
    expect(Array.from(arrival?.counts ?? [])).toEqual(Array.from(LITTLE));
    expect(remarks).toHaveLength(1);
  });
});

test('the counts are in memory of their own, whichever way they came', () => {
  for (const payload of [
    json(sealed({ encoding: 'int16', samples: base64(LITTLE) })),
    cbor(sealed({ samples: new Tagged(77, LITTLE) })),
  ]) {
    expect(take(payload).arrival?.counts?.buffer.byteLength).toBe(512);
  }
});

test('other channels may speak CBOR too', () => {
  const summary = { spindleId: 'S-1', speedRpm: 12_000, overallMmS: 0.5 };
  expect(take(cbor(summary), 'summary').arrival?.draft).toMatchObject({ kind: 'summary', data: summary });
  const bytes = { ...summary, spindleId: LITTLE };
  expect(take(cbor(bytes), 'summary').problem).toMatchObject({ errors: [{ pointer: '/data/spindleId' }] });
});

const floatsWith = (odd: number): Uint8Array => {
  const values = new Float32Array(FLOATS.slice().buffer);
  values[200] = odd;
  return new Uint8Array(values.buffer);
};

describe('refused, with what was expected', () => {
  test.each([
    ['an array of bytes that is no message', Buffer.from('a1', 'hex'), 'not-cbor', '', 'one map in CBOR', 'not enough'],
    ['two of them', Buffer.from('a0a0', 'hex'), 'not-cbor', '', 'one map in CBOR', 'too many'],
    ['a key twice', Buffer.from('a2616101616102', 'hex'), 'not-cbor', '', 'one map in CBOR', 'repeat map key'],
    ['a key that is no text', Buffer.from('a10102', 'hex'), 'not-cbor', '', 'one map in CBOR', 'non-string keys'],
    ['a tag of no use', Buffer.from('a16161c101', 'hex'), 'not-cbor', '', 'one map in CBOR', 'tag not supported'],
    [
      'nested without end',
      Buffer.from(`a16161${'81'.repeat(200_000)}`, 'hex'),
      'not-cbor',
      '',
      'one map in CBOR',
      'lists or maps within each other, too deep to be read',
    ],
    ['nothing but a tag', Buffer.from('d9d9f7', 'hex'), 'not-cbor', '', 'one map in CBOR', 'missing'],
    ['a number', Buffer.from('d9d9f707', 'hex'), 'not-an-object', '', 'an object', '7'],
    [
      'float64',
      cbor(sealed({ samples: new Tagged(86, FLOATS) })),
      'wrong-samples',
      '/data/samples',
      'tag 77',
      'tag 86',
    ],
    ['text under the tag', cbor(sealed({ samples: new Tagged(77, 'x') })), 'not-cbor', '', 'one map', 'no byte string'],
    [
      'another encoding than the tag says',
      cbor(sealed({ encoding: 'float32', samples: new Tagged(77, LITTLE) })),
      'wrong-samples',
      '/data/samples',
      'int16',
      'float32',
    ],
    [
      'half a sample',
      cbor(sealed({ samples: new Tagged(77, LITTLE.slice(0, 511)) })),
      'wrong-samples',
      '/data/samples',
      '2 bytes for each sample',
      '511 bytes',
    ],
    [
      'half a sample, big-endian',
      cbor(sealed({ samples: new Tagged(81, FLOATS.slice(0, 1022)) })),
      'wrong-samples',
      '/data/samples',
      'whole samples of float32',
      '1022 bytes',
    ],
    ['bytes of no encoding', cbor(sealed({ samples: LITTLE })), 'wrong-shape', '/data/encoding', '', 'nothing'],
    ['no samples at all', cbor(sealed({ encoding: 'int16' })), 'wrong-shape', '/data/samples', '', 'nothing'],
    ['no samples at all in JSON', json(sealed({ encoding: 'int16' })), 'wrong-shape', '/data/samples', '', 'nothing'],
    [
      'how many instead of which',
      json(sealed({ encoding: 'int16', sampleCount: 256 })),
      'wrong-shape',
      '/data/samples',
      '',
      'nothing',
    ],
    [
      'no base64',
      json(sealed({ encoding: 'int16', samples: `${base64(LITTLE).slice(0, 400)}*${base64(LITTLE).slice(401)}` })),
      'wrong-samples',
      '/data/samples',
      'base64',
      '"',
    ],
    [
      'base64 without its padding',
      json(sealed({ encoding: 'int16', samples: base64(LITTLE).replace(/=+$/, '') })),
      'wrong-samples',
      '/data/samples',
      'padding',
      '"',
    ],
    [
      'too few',
      json(sealed({ encoding: 'int16', samples: base64(LITTLE.slice(0, 510)) })),
      'wrong-samples',
      '/data/samples',
      '256 to 2097152 samples',
      '255',
    ],
    [
      'too many',
      cbor(sealed({ samples: new Tagged(77, new Uint8Array(2 * WAVE_SAMPLES_LARGE_MAX + 2)) })),
      'wrong-samples',
      '/data/samples',
      '256 to 2097152 samples',
      '2097153',
    ],
    [
      'infinity among them',
      json(sealed({ encoding: 'float32', samples: base64(floatsWith(Number.NEGATIVE_INFINITY)) })),
      'wrong-samples',
      '/data/samples',
      'finite',
      'sample 200 is infinite',
    ],
    [
      'no number among them',
      cbor(sealed({ samples: new Tagged(81, swapped(floatsWith(Number.NaN), 4)) })),
      'wrong-samples',
      '/data/samples',
      'finite',
      'sample 200 is not a number',
    ],
    [
      'marks that go back',
      json(sealed({ encoding: 'int16', samples: base64(LITTLE), tachoS: [0.001, 0.006, 0.0055] })),
      'wrong-samples',
      '/data/tachoS/2',
      'later than the one before',
      '0.0055 after 0.006',
    ],
  ])('%s', (_name, payload, code, pointer, want, got) => {
    const { problem } = take(payload);
    expect(problem?.type).toBe(`urn:counterpoise:problem:${code}`);
    const fault = problem?.errors?.find((one) => one.pointer === pointer);
    expect(fault?.want).toContain(want);
    expect(fault?.got).toContain(got);
  });
});

describe('whatever the bytes are, they are kept or refused with a reason', () => {
  const isAnswered = (payload: Uint8Array): boolean => {
    const { arrival, problem } = take(payload);
    return arrival !== undefined && (arrival.rejected !== undefined) === (problem !== undefined);
  };

  test('any bytes that begin like CBOR', () => {
    fc.assert(
      fc.property(fc.constantFrom(0xa1, 0xa5, 0xb8, 0xbf, 0xd9), fc.uint8Array({ maxLength: 200 }), (first, rest) =>
        isAnswered(Uint8Array.of(first, ...rest)),
      ),
      { numRuns: 2000 },
    );
  });

  test('a good window with any one byte of its head changed, or cut anywhere', () => {
    const good = cbor(sealed({ samples: new Tagged(77, LITTLE) }));
    fc.assert(
      fc.property(fc.nat({ max: good.length - 1 }), fc.nat({ max: 255 }), (place, byte) => {
        const changed = Uint8Array.from(good);
        changed[place] = byte;
        return isAnswered(changed) && isAnswered(good.slice(0, place));
      }),
      { numRuns: 1000 },
    );
  });
});
