// Whatever bytes come, a file is read or refused in words; nothing is thrown, and no sample is anything but a number.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { analyseChannel, faultWords, readRecordedFile } from '../../../shared/recorded-file/index.ts';
import { bytesOf, noiseOf, waveFile } from './written-file.ts';

/** What is not as it has to be with the answer to these bytes; empty where nothing is. */
function wrongWith(bytes: Uint8Array, sampleRateHz?: number): readonly string[] {
  const file = readRecordedFile(bytes, sampleRateHz === undefined ? {} : { sampleRateHz });
  if (file.kind === 'refused')
    return file.faults.some((fault) => faultWords(fault) !== '') ? [] : ['refused without words'];
  return file.channels
    .filter(({ accelerationMS2, sampleRateHz: rate }) => !(accelerationMS2.every(Number.isFinite) && rate > 0))
    .map(({ name }) => `${name} holds what is no number, or has no rate`);
}

const PIECES = [
  '1',
  ',',
  ';',
  '.',
  '\n',
  '\r',
  '\t',
  ' ',
  '"',
  '#',
  'e',
  '-',
  'time',
  'a [g]',
  'µ',
  '12:00:00',
  'µm',
  '0.5\n',
  '1;2\n',
  '0,5 0,5\n',
  'NaN',
  '1e400',
  '\uFEFF',
];

test.each([
  ['any bytes', fc.uint8Array({ maxLength: 2000 })],
  [
    'pieces of tables',
    fc.array(fc.constantFrom(...PIECES), { maxLength: 400 }).map((parts) => bytesOf(parts.join(''))),
  ],
  [
    'tables of one piece over and over',
    fc
      .array(fc.constantFrom(...PIECES), { minLength: 1, maxLength: 8 })
      .map((parts) => bytesOf(`${parts.join('')}\n`.repeat(200))),
  ],
  [
    'the head of a WAV file, changed',
    fc
      .tuple(
        fc.uint8Array({ maxLength: 600 }),
        fc.array(fc.tuple(fc.integer({ min: 12, max: 43 }), fc.nat(255)), { maxLength: 6 }),
      )
      .map(([tail, changes]) => {
        const bytes = Uint8Array.from([...HEAD, ...tail]);
        for (const [at, value] of changes) bytes[at] = value;
        return bytes;
      }),
  ],
])('%s', (_, arbitrary) => {
  fc.assert(
    fc.property(arbitrary, fc.constantFrom(undefined, 1000), (bytes, rate) => {
      expect(wrongWith(bytes, rate)).toEqual([]);
    }),
    { numRuns: 1000 },
  );
});

const HEAD = waveFile({ sampleRateHz: 1000, channels: [noiseOf(130)], bits: 16, coding: 'whole' }).subarray(0, 44);

test('larger than the limit: refused unread', () => {
  expect(readRecordedFile(new Uint8Array(64 * 1024 * 1024 + 1))).toMatchObject({
    kind: 'refused',
    faults: [{ words: 'It has 65 MiB; expected at most 64 MiB in up to 16 channels. Cut it into parts.' }],
  });
});

test('values that are no vibration are refused', () => {
  const rows = Array.from({ length: 200 }, (_, i) => `${i / 100};${i === 150 ? '1e12' : '1'}`).join('\n');
  expect(readRecordedFile(bytesOf(`time;a [m/s2]\n${rows}\n`))).toMatchObject({
    kind: 'refused',
    faults: [{ words: expect.stringContaining('a holds values beyond 1000000000') as unknown }],
  });
});

test('whatever numbers are read can be analysed, and what is told of them are numbers', () => {
  const value = fc.oneof(
    fc.double({ min: -1e9, max: 1e9, noNaN: true }),
    fc.double({ min: -1e-300, max: 1e-300, noNaN: true }),
    fc.constantFrom(0, 1, -1, 1e9),
  );
  fc.assert(
    fc.property(
      fc.array(value, { minLength: 128, maxLength: 400 }),
      fc.constantFrom(0.01, 10, 25_600, 1e9),
      fc.constantFrom(undefined, 0.001, 3000, 1e9),
      (values, sampleRateHz, speedRpm) => {
        const file = readRecordedFile(bytesOf(`a [m/s2]\n${values.join('\n')}\n`), { sampleRateHz });
        const channels = file.kind === 'read' ? file.channels : [];
        expect(channels).toHaveLength(1);
        const question = { settings: { teeth: 4 }, ...(speedRpm === undefined ? {} : { speedRpm }) };
        for (const channel of channels) {
          const { told } = analyseChannel(channel, question);
          const levels =
            told === undefined ? [] : [told.overallMmS, told.accelerationRmsMS2, told.crestFactor, told.kurtosis];
          expect(levels.every(({ median, greatest }) => Number.isFinite(median) && Number.isFinite(greatest))).toBe(
            true,
          );
        }
      },
    ),
    { numRuns: 100 },
  );
});
