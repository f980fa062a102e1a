// A WAV file: RIFF chunks, samples of whole numbers or of floating point, in one channel or several. As in the
// Multimedia Programming Interface and Data Specifications 1.0 (1991), and its extension by WAVE_FORMAT_EXTENSIBLE.
import { say } from '../language/index.ts';
import { WINDOW_SAMPLES_MIN } from '../vibration/index.ts';
import { CHANNELS_MAX, SAMPLES_MAX } from './limits.ts';
import { refused, type FileChannel, type ReadingChoices, type RecordedFile } from './recorded-channel.ts';

const WHOLE = 1;
const FLOATING = 3;
const EXTENSIBLE = 0xfffe;
const CHUNK_HEAD_BYTES = 8;
const FIRST_CHUNK = 12;
const FORMAT_BYTES = 16;
const SUBFORMAT_AT = 24;
/** Names of what is refused, so that whoever exports knows what to change. From memory. */
const OTHER_FORMATS: Readonly<Record<number, string>> = {
  2: 'ADPCM',
  6: 'A-law',
  7: 'µ-law',
  17: 'IMA ADPCM',
  85: 'MP3',
};

export function isWaveFile(bytes: Uint8Array): boolean {
  return ['RIFF', 'RF64', 'RIFX'].includes(nameAt(bytes, 0)) && nameAt(bytes, 8) === 'WAVE';
}

interface Format {
  readonly coding: number;
  readonly channels: number;
  readonly sampleRateHz: number;
  readonly bytesPerSample: number;
  /** Of the container, those counted that are not used. */
  readonly bits: number;
}

export function waveRecording(bytes: Uint8Array, choices: ReadingChoices): RecordedFile {
  if (nameAt(bytes, 0) !== 'RIFF')
    return refused(say`It is a WAV file of the form ${nameAt(bytes, 0)}. Expected the common form, RIFF.`);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const chunks = chunksOf(bytes, view);
  const head = chunks.get('fmt ');
  const body = chunks.get('data');
  if (head === undefined || head.to - head.from < FORMAT_BYTES)
    return refused(say`It has no description of its format (the chunk “fmt ”). Expected a whole WAV file.`);
  if (body === undefined) return refused(say`It has no samples (the chunk “data”). Expected a whole WAV file.`);
  const format = formatOf(view, head);
  if (typeof format === 'string') return refused(format);
  return samplesOf(view, body, format, choices);
}

interface Stretch {
  readonly from: number;
  readonly to: number;
  /** Whether the file ends before the chunk does. */
  readonly cut: boolean;
  /** Its length was never written, as by a recorder that lost its power: it goes to the end of the file. */
  readonly unwritten?: boolean;
}

function chunksOf(bytes: Uint8Array, view: DataView): ReadonlyMap<string, Stretch> {
  const chunks = new Map<string, Stretch>();
  let at = FIRST_CHUNK;
  while (at + CHUNK_HEAD_BYTES <= bytes.length) {
    const length = view.getUint32(at + 4, true);
    const from = at + CHUNK_HEAD_BYTES;
    const to = Math.min(bytes.length, from + length);
    const name = nameAt(bytes, at);
    if (name === 'data' && isUnwritten(bytes, view, { from, length })) {
      chunks.set(name, { from, to: bytes.length, cut: false, unwritten: true });
      break;
    }
    if (!chunks.has(name)) chunks.set(name, { from, to, cut: from + length > bytes.length });
    // Chunks begin at even bytes.
    at = from + length + (length % 2);
  }
  return chunks;
}

/** A length of 0, or of as much as fits the field, with bytes after it that are no further chunk. */
function isUnwritten(bytes: Uint8Array, view: DataView, { from, length }: { from: number; length: number }): boolean {
  if (length !== 0 && length !== 0xffff_ffff) return false;
  if (length !== 0 || from + CHUNK_HEAD_BYTES > bytes.length) return from < bytes.length;
  return from + CHUNK_HEAD_BYTES + view.getUint32(from + 4, true) > bytes.length;
}

/** The format, or why it cannot be read. */
function formatOf(view: DataView, { from, to }: Stretch): Format | string {
  const told = view.getUint16(from, true);
  const coding =
    told === EXTENSIBLE && to - from >= SUBFORMAT_AT + 2 ? view.getUint16(from + SUBFORMAT_AT, true) : told;
  const channels = view.getUint16(from + 2, true);
  const sampleRateHz = view.getUint32(from + 4, true);
  const bits = view.getUint16(from + 14, true);
  if (coding !== WHOLE && coding !== FLOATING)
    return say`Its samples are coded as ${OTHER_FORMATS[coding] ?? say`format ${coding}`}, which loses what is to be looked at. Expected PCM or floating point.`;
  const allowed = coding === WHOLE ? [8, 16, 24, 32] : [32, 64];
  if (!allowed.includes(bits)) return say`Its samples have ${bits} bits; expected ${allowed.join(', ')}.`;
  if (channels < 1 || channels > CHANNELS_MAX) return say`It has ${channels} channels; expected 1 to ${CHANNELS_MAX}.`;
  if (sampleRateHz < 1) return say`It says a sample rate of 0 Hz; expected the rate that it was recorded with.`;
  return { coding, channels, sampleRateHz, bytesPerSample: bits / 8, bits };
}

function samplesOf(view: DataView, body: Stretch, format: Format, choices: ReadingChoices): RecordedFile {
  const { channels: count, bytesPerSample } = format;
  const samples = Math.floor((body.to - body.from) / (count * bytesPerSample));
  if (samples * count > SAMPLES_MAX)
    return refused(
      say`It has ${samples * count} samples over its channels; expected at most ${SAMPLES_MAX}. Cut it into parts.`,
    );
  if (samples < WINDOW_SAMPLES_MIN)
    return refused(say`It has ${samples} samples in each channel; expected at least ${WINDOW_SAMPLES_MIN}.`);
  const scale = choices.fullScaleMS2 ?? 1;
  const read = readerOf(view, format);
  const channels = Array.from({ length: count }, (_, channel): FileChannel => {
    const values = new Float64Array(samples);
    for (let i = 0; i < samples; i += 1) values[i] = read(body.from + (i * count + channel) * bytesPerSample) * scale;
    return {
      name: say`channel ${channel + 1}`,
      accelerationMS2: values,
      sampleRateHz: choices.sampleRateHz ?? format.sampleRateHz,
      scaled: choices.fullScaleMS2 !== undefined,
      unitWords: unitWords(format, choices.fullScaleMS2),
      ...(format.coding === WHOLE ? { fullScaleMS2: scale, stepMS2: scale / 2 ** (format.bits - 1) } : {}),
    };
  });
  const finite = channels.every(({ accelerationMS2 }) => accelerationMS2.every(Number.isFinite));
  if (!finite) return refused(say`Some of its samples are no numbers. Expected a number in each.`);
  return { kind: 'read', format: 'WAV file', channels, remarks: remarksOf(body, samples, format, choices) };
}

/** Values as shares of the full scale, −1 to 1; floating point as it stands. */
function readerOf(view: DataView, { coding, bits }: Format): (at: number) => number {
  if (coding === FLOATING) return bits === 32 ? (at) => view.getFloat32(at, true) : (at) => view.getFloat64(at, true);
  const full = 2 ** (bits - 1);
  switch (bits) {
    case 8:
      return (at) => (view.getUint8(at) - full) / full;
    case 16:
      return (at) => view.getInt16(at, true) / full;
    case 24:
      return (at) => ((view.getInt8(at + 2) << 16) | view.getUint16(at, true)) / full;
    default:
      return (at) => view.getInt32(at, true) / full;
  }
}

function unitWords({ coding }: Format, fullScaleMS2: number | undefined): string {
  const what = coding === WHOLE ? say`full scale` : say`a value of 1`;
  return fullScaleMS2 === undefined
    ? say`none: a WAV file carries no unit, levels are relative until it is told what ${what} stands for`
    : say`${what} is ${Number(fullScaleMS2.toPrecision(6))} m/s², as told`;
}

function remarksOf(body: Stretch, samples: number, format: Format, choices: ReadingChoices): readonly string[] {
  const { sampleRateHz, channels, bytesPerSample } = format;
  const rest = (body.to - body.from) % (channels * bytesPerSample);
  const told = choices.sampleRateHz;
  return [
    ...(body.unwritten === true
      ? [
          say`Its head does not say how many samples it has, as if the recorder had lost its power: all that follows was read.`,
        ]
      : []),
    ...(body.unwritten !== true && (body.cut || rest > 0)
      ? [say`The file ends before its samples do: the ${samples} whole samples of each channel were read.`]
      : []),
    ...(told !== undefined && told !== sampleRateHz
      ? [say`The file says ${sampleRateHz} Hz, told was ${told} Hz: what was told counts.`]
      : []),
  ];
}

function nameAt(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4));
}
