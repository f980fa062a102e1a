// Bytes in, a message or a coded refusal out: the table of what devices really send.
import { describe, expect, test } from 'vitest';
import { readMessage } from '../../../services/intake/index.ts';
import type { InChannel } from '../../../shared/topics.ts';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const envelope = (data: unknown, more: Record<string, unknown> = {}): string =>
  JSON.stringify({
    specversion: '1.0',
    id: 'm-1',
    source: '/plant/p/device/d',
    type: 'counterpoise.assembly.build.v1',
    time: '2026-11-24T07:31:05.120Z',
    data,
    ...more,
  });
const build = {
  assemblyId: 'A-1',
  buildId: 'B-1',
  massKg: 1.2,
  serviceSpeedRpm: 18_000,
  gradeMmS: 2.5,
  parts: [{ role: 'holder', name: 'holder of our own invention' }],
};
const plane = (name: string) => ({ name, residualGmm: 1, angleDeg: 0 });
const proof = { rotorSerial: 'P-1', planes: [plane('A'), plane('B')], toleranceGmm: 2 };
const summary = { speedRpm: 12_000, overallMmS: 0.8, synchronousMmS: 0.4 };

interface Bad {
  readonly name: string;
  readonly channel: InChannel;
  readonly payload: string;
  readonly code: string;
  readonly pointer?: string;
  readonly want?: RegExp;
  readonly got?: RegExp;
}

const BAD: readonly Bad[] = [
  { name: 'nothing', channel: 'build', payload: '', code: 'not-json', want: /JSON/, got: /nothing/ },
  { name: 'not JSON', channel: 'build', payload: 'mass=1.2', code: 'not-json', got: /mass=1\.2/ },
  { name: 'half an object', channel: 'build', payload: '{"a":', code: 'not-json' },
  { name: 'NaN is not JSON', channel: 'summary', payload: '{"speedRpm":NaN,"overallMmS":1}', code: 'not-json' },
  { name: 'Infinity is not JSON', channel: 'summary', payload: '{"speedRpm":Infinity}', code: 'not-json' },
  { name: 'a number', channel: 'build', payload: '7', code: 'not-an-object' },
  { name: 'an array', channel: 'build', payload: '[{}]', code: 'not-an-object', got: /array of 1/ },
  { name: 'null', channel: 'build', payload: 'null', code: 'not-an-object' },
  {
    name: 'an envelope that leaves out its specversion',
    channel: 'summary',
    payload: JSON.stringify({
      id: 'm-1',
      source: '/plant/p/device/d',
      type: 'counterpoise.vibration.summary.v1',
      data: summary,
    }),
    code: 'wrong-shape',
    pointer: '/specversion',
    want: /"1\.0"/,
    got: /nothing/,
  },
  {
    name: '10,000 nested arrays',
    channel: 'build',
    payload: '['.repeat(10_000) + ']'.repeat(10_000),
    code: 'not-an-object',
  },
  {
    name: '10,000 nested arrays inside data',
    channel: 'build',
    payload: `{"specversion":"1.0","id":"x","source":"s","type":"counterpoise.assembly.build.v1","data":${'['.repeat(10_000)}${']'.repeat(10_000)}}`,
    code: 'wrong-shape',
    pointer: '/data',
  },
  {
    name: 'NaN as text',
    channel: 'summary',
    payload: '{"speedRpm":"NaN","overallMmS":1}',
    code: 'wrong-shape',
    pointer: '/data/speedRpm',
    got: /"NaN"/,
  },
  {
    name: '1e308',
    channel: 'summary',
    payload: '{"speedRpm":1e308,"overallMmS":1}',
    code: 'wrong-shape',
    want: /500000/,
  },
  {
    name: '1e999, which JSON reads as Infinity',
    channel: 'summary',
    payload: '{"speedRpm":1e999,"overallMmS":1}',
    code: 'wrong-shape',
    pointer: '/data/speedRpm',
  },
  {
    name: 'negative mass',
    channel: 'build',
    payload: envelope({ ...build, massKg: -1 }),
    code: 'wrong-shape',
    pointer: '/data/massKg',
    got: /-1/,
  },
  {
    name: 'zero speed',
    channel: 'build',
    payload: envelope({ ...build, serviceSpeedRpm: 0 }),
    code: 'wrong-shape',
    pointer: '/data/serviceSpeedRpm',
    want: /at least 1/,
  },
  {
    name: 'unknown version',
    channel: 'build',
    payload: envelope(build, { type: 'counterpoise.assembly.build.v9' }),
    code: 'unknown-version',
    pointer: '/type',
  },
  {
    name: 'type of another channel',
    channel: 'build',
    payload: envelope(build, { type: 'counterpoise.balance.result.v1' }),
    code: 'unknown-type',
  },
  { name: 'no id', channel: 'build', payload: envelope(build, { id: '' }), code: 'wrong-shape', pointer: '/id' },
  {
    name: 'time of no calendar',
    channel: 'build',
    payload: envelope(build, { time: '2026-02-30T00:00:00Z' }),
    code: 'wrong-shape',
    pointer: '/time',
  },
  {
    name: 'local time without zone',
    channel: 'build',
    payload: envelope(build, { time: '2026-02-03T00:00:00' }),
    code: 'wrong-shape',
    want: /RFC 3339/,
  },
  {
    name: 'an id with a slash',
    channel: 'build',
    payload: envelope({ ...build, assemblyId: 'A/1' }),
    code: 'wrong-shape',
    want: /letters, digits or hyphens/,
  },
  {
    name: 'a result without any measurement',
    channel: 'result',
    payload: envelope({ assemblyId: 'A-1', buildId: 'B-1' }, { type: 'counterpoise.balance.result.v1' }),
    code: 'wrong-shape',
    want: /index readings/,
  },
  {
    name: 'two planes of one name',
    channel: 'result',
    payload: envelope(
      { assemblyId: 'A-1', buildId: 'B-1', planes: [plane('A'), plane('A')] },
      { type: 'counterpoise.balance.result.v1' },
    ),
    code: 'wrong-shape',
    pointer: '/data/planes',
    want: /^expected planes of different names$/,
  },
  {
    name: 'index positions too close to each other',
    channel: 'result',
    payload: envelope(
      {
        assemblyId: 'A-1',
        buildId: 'B-1',
        readings: [0, 2].map((indexDeg) => ({ indexDeg, planes: [{ amountGmm: 1, angleDeg: 0 }] })),
      },
      { type: 'counterpoise.balance.result.v1' },
    ),
    code: 'wrong-shape',
    pointer: '/data/readings',
    want: /^expected index positions turned well apart, such as 0 and 180$/,
  },
  {
    name: 'a proof that expects other planes than were measured',
    channel: 'proof',
    payload: envelope({ ...proof, expected: [plane('A'), plane('C')] }, { type: 'counterpoise.bench.proof.v1' }),
    code: 'wrong-shape',
    pointer: '/data/expected',
    want: /^expected the same planes as were measured: A, B$/,
  },
  {
    name: 'a proof that expects one plane of two',
    channel: 'proof',
    payload: envelope({ ...proof, expected: [plane('A')] }, { type: 'counterpoise.bench.proof.v1' }),
    code: 'wrong-shape',
    pointer: '/data/expected',
    want: /^expected the same planes as were measured: A, B$/,
  },
  {
    name: 'two places of one id',
    channel: 'build',
    payload: envelope({
      ...build,
      features: [1, 2].map(() => ({ kind: 'rings', featureId: 'rings', eachGmm: [3, 3], graduationDeg: 5 })),
    }),
    code: 'wrong-shape',
    pointer: '/data/features',
    want: /^expected places of different featureId$/,
  },
];

describe('what cannot be read is refused with a code, the field, what was expected and what came', () => {
  test.each(BAD)('$name', ({ channel, payload, code, pointer, want, got }) => {
    const read = readMessage(channel, bytes(payload));
    if (read.kind !== 'refusal') throw new Error('it was read as a message');
    expect(read.problem.type).toBe(`urn:counterpoise:problem:${code}`);
    const [fault] = read.problem.errors ?? [];
    expect(fault?.pointer).toBe(pointer ?? fault?.pointer);
    expect(fault?.want ?? '').toMatch(want ?? /^/);
    expect(fault?.got ?? '').toMatch(got ?? /^/);
    expect(JSON.stringify(read.problem).length).toBeLessThan(4000);
  });

  test('bytes that are no UTF-8', () => {
    const read = readMessage('build', Uint8Array.of(0x7b, 0xff, 0xfe, 0x7d));
    expect(read).toMatchObject({ kind: 'refusal', problem: { type: 'urn:counterpoise:problem:not-json' } });
  });

  test('__proto__ in data stays data', () => {
    const read = readMessage('summary', bytes('{"speedRpm":1,"overallMmS":1,"__proto__":{"speedRpm":9}}'));
    expect(read).toMatchObject({ kind: 'message', data: { speedRpm: 1 } });
    expect(({} as Record<string, unknown>)['speedRpm']).toBeUndefined();
  });
});

describe('what can be read', () => {
  test('an envelope', () => {
    expect(readMessage('build', bytes(envelope(build)))).toMatchObject({
      kind: 'message',
      envelope: { id: 'm-1' },
      data: build,
      remarks: [],
    });
  });

  test('what is missing is said in plain words', () => {
    const read = readMessage('build', bytes(envelope({ massKg: 1 })));
    const faults = (read.kind === 'refusal' && read.problem.errors) || [];
    expect(faults).toContainEqual({ pointer: '/data/parts', want: 'expected a list; it is missing', got: 'nothing' });
    expect(JSON.stringify(faults)).not.toMatch(/Invalid|received|undefined/);
  });

  test('the plain profile: bare data, with a remark that repeats cannot be told', () => {
    const read = readMessage('summary', bytes(JSON.stringify(summary)));
    expect(read).toMatchObject({ kind: 'message', data: summary, remarks: [{ got: 'bare data' }] });
  });

  test('unknown fields are ignored and remarked', () => {
    const read = readMessage('build', bytes(envelope({ ...build, colour: 'grey' })));
    expect(read).toMatchObject({ kind: 'message', remarks: [{ pointer: '/data/colour' }] });
    expect(read.kind === 'message' ? Object.keys(read.data) : ['colour']).not.toContain('colour');
  });
});
