// WAV files of every form that is read: the samples to within a count, what is refused and why.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readRecordedFile, type RecordedFile } from '../../../shared/recorded-file/index.ts';
import { bytesOf, noiseOf, waveFile, type WaveWritten } from './written-file.ts';

type Read = Extract<RecordedFile, { kind: 'read' }>;
const FORMS = [
  ['whole', 8],
  ['whole', 16],
  ['whole', 24],
  ['whole', 32],
  ['floating', 32],
  ['floating', 64],
] as const;
const FULL_SCALE_MS2 = 500;

function readBytes(bytes: Uint8Array, fullScaleMS2?: number): Read {
  const file = readRecordedFile(bytes, fullScaleMS2 === undefined ? {} : { fullScaleMS2 });
  expect(file).toMatchObject({ kind: 'read' });
  return file as Read;
}

function refusal(bytes: Uint8Array): string {
  const file = readRecordedFile(bytes);
  return file.kind === 'refused' ? (file.faults[0]?.words ?? '') : 'was read';
}

const plain: WaveWritten = {
  sampleRateHz: 48_000,
  channels: [noiseOf(300), noiseOf(300, 2)],
  bits: 16,
  coding: 'whole',
};

describe.each(FORMS)('%s numbers of %i bits', (coding, bits) => {
  test.each([false, true])('extensible: %s', (extensible) => {
    const { channels, remarks } = readBytes(
      waveFile({ ...plain, coding, bits, extensible, odd: extensible }),
      FULL_SCALE_MS2,
    );
    expect(remarks).toEqual([]);
    expect(channels.map(({ name }) => name)).toEqual(['channel 1', 'channel 2']);
    const count = coding === 'whole' ? 2 ** (1 - bits) : bits === 32 ? 2 ** -24 : 0;
    for (const [i, { accelerationMS2, sampleRateHz, scaled }] of channels.entries()) {
      expect({ sampleRateHz, scaled }).toEqual({ sampleRateHz: 48_000, scaled: true });
      const written = plain.channels[i] ?? [];
      const off = accelerationMS2.map((value, at) => Math.abs(value / FULL_SCALE_MS2 - (written[at] ?? 0)));
      expect(Math.max(...off)).toBeLessThanOrEqual(count + 1e-15);
    }
  });
});

test('whatever counts are written, the same counts are read', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(8, 16, 24, 32),
      fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 128, maxLength: 200 }),
      (bits, values) => {
        const full = 2 ** (bits - 1);
        const counts = values.map((value) => Math.max(-full, Math.min(full - 1, Math.round(value * full))));
        const bytes = waveFile({
          sampleRateHz: 1000,
          channels: [counts.map((value) => value / full)],
          bits,
          coding: 'whole',
        });
        expect([...(readBytes(bytes).channels[0]?.accelerationMS2 ?? [])].map((value) => value * full + 0)).toEqual(
          counts.map((value) => value + 0),
        );
      },
    ),
  );
});

test('without a scale values are shares of the full scale, and that is said', () => {
  const [channel] = readBytes(waveFile({ ...plain, channels: [noiseOf(300)] })).channels;
  expect(channel).toMatchObject({ name: 'channel 1', scaled: false, fullScaleMS2: 1, stepMS2: 2 ** -15 });
  expect(channel?.unitWords).toBe(
    'none: a WAV file carries no unit, levels are relative until it is told what full scale stands for',
  );
});

test('of floating point no end of the range is known', () => {
  const [channel] = readBytes(waveFile({ ...plain, coding: 'floating', bits: 32 }), FULL_SCALE_MS2).channels;
  expect(channel).not.toHaveProperty('fullScaleMS2');
  expect(channel?.unitWords).toBe('a value of 1 is 500 m/s², as told');
});

test('a file that was cut off gives what it has, and says so', () => {
  const bytes = waveFile(plain);
  const { channels, remarks } = readBytes(bytes.subarray(0, bytes.length - 101));
  expect(channels[0]?.accelerationMS2).toHaveLength(274);
  expect(remarks).toEqual(['The file ends before its samples do: the 274 whole samples of each channel were read.']);
});

test.each([0, 0xffff_ffff])('a length of samples that was never written, %i, goes to the end', (length) => {
  const bytes = waveFile(plain).slice();
  new DataView(bytes.buffer).setUint32(DATA_LENGTH_AT, length, true);
  const { channels, remarks } = readBytes(bytes);
  expect(channels[0]?.accelerationMS2).toEqual(readBytes(waveFile(plain)).channels[0]?.accelerationMS2);
  expect(remarks.join()).toContain('as if the recorder had lost its power');
});

test('no samples, and another chunk after them, is an empty recording', () => {
  const bytes = Uint8Array.from([...waveFile(plain).subarray(0, 44), ...bytesOf('LIST'), 4, 0, 0, 0, 0, 0, 0, 0]);
  new DataView(bytes.buffer).setUint32(DATA_LENGTH_AT, 0, true);
  expect(refusal(bytes)).toContain('It has 0 samples');
});

/** In a plain file: 12 of RIFF, 24 of the format, 4 of the name. */
const DATA_LENGTH_AT = 40;
const written = waveFile(plain);
/** The same file with one field of its format overwritten. */
function altered(at: number, value: number): Uint8Array {
  const bytes = written.slice();
  new DataView(bytes.buffer).setUint16(at, value, true);
  return bytes;
}

test.each([
  ['compressed', altered(20, 2), 'coded as ADPCM'],
  ['unknown', altered(20, 4711), 'coded as format 4711'],
  ['of 12 bits', altered(34, 12), 'have 12 bits; expected 8, 16, 24, 32'],
  ['without channels', altered(22, 0), 'It has 0 channels; expected 1 to 16'],
  ['of 17 channels', altered(22, 17), 'It has 17 channels; expected 1 to 16'],
  ['without a rate', altered(24, 0), '0 Hz'],
  ['another form', Uint8Array.from([...bytesOf('RF64'), ...written.subarray(4)]), 'of the form RF64'],
  ['a head alone', written.subarray(0, 36), 'It has no samples'],
  ['no format', written.subarray(0, 20), 'no description of its format'],
  [
    'too short',
    waveFile({ ...plain, channels: [noiseOf(20)] }),
    'It has 20 samples in each channel; expected at least 128',
  ],
  [
    'not a number',
    waveFile({ ...plain, channels: [[...noiseOf(200), Number.NaN]], coding: 'floating', bits: 32 }),
    'no numbers',
  ],
])('%s', (_, bytes, words) => {
  const shown = bytes === written.subarray(0, 20) ? 'RIFF' : '';
  expect(shown + refusal(bytes)).toContain(words);
});
