// Writes recorded files for the tests: WAV byte by byte as its format says, and text.

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export interface WaveWritten {
  readonly sampleRateHz: number;
  /** Shares of the full scale, channel by channel. */
  readonly channels: readonly ArrayLike<number>[];
  readonly bits: 8 | 16 | 24 | 32 | 64;
  readonly coding: 'whole' | 'floating';
  readonly extensible?: boolean;
  /** A chunk before the samples, of an odd length. */
  readonly odd?: boolean;
}

const text = (words: string): number[] => [...bytesOf(words)];
const u16 = (value: number): number[] => [value & 0xff, (value >> 8) & 0xff];
const u32 = (value: number): number[] => [...u16(value & 0xffff), ...u16(value >>> 16)];

export function waveFile({
  sampleRateHz,
  channels,
  bits,
  coding,
  extensible = false,
  odd = false,
}: WaveWritten): Uint8Array {
  const width = bits / 8;
  const samples = channels[0]?.length ?? 0;
  const tag = coding === 'whole' ? 1 : 3;
  const block = width * channels.length;
  const format = [
    ...u16(extensible ? 0xfffe : tag),
    ...u16(channels.length),
    ...u32(sampleRateHz),
    ...u32(sampleRateHz * block),
    ...u16(block),
    ...u16(bits),
    ...(extensible ? [...u16(22), ...u16(bits), ...u32(0), ...u16(tag), ...GUID_REST] : []),
  ];
  const dataBytes = samples * block;
  const head = [
    ...text('WAVE'),
    ...text('fmt '),
    ...u32(format.length),
    ...format,
    ...(odd ? [...text('note'), ...u32(3), 1, 2, 3, 0] : []),
    ...text('data'),
    ...u32(dataBytes),
  ];
  const bytes = new Uint8Array(8 + head.length + dataBytes);
  bytes.set([...text('RIFF'), ...u32(head.length + dataBytes), ...head]);
  const view = new DataView(bytes.buffer, 8 + head.length);
  for (let i = 0; i < samples; i += 1)
    channels.forEach((channel, c) => put(view, (i * channels.length + c) * width, channel[i] ?? 0, bits, coding));
  return bytes;
}

/** Of the sub-format's identifier, all but its first two bytes. */
const GUID_REST = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];

function put(view: DataView, at: number, share: number, bits: number, coding: 'whole' | 'floating'): void {
  if (coding === 'floating') {
    if (bits === 32) view.setFloat32(at, share, true);
    else view.setFloat64(at, share, true);
    return;
  }
  const full = 2 ** (bits - 1);
  const count = Math.max(-full, Math.min(full - 1, Math.round(share * full)));
  if (bits === 8) view.setUint8(at, count + full);
  else if (bits === 16) view.setInt16(at, count, true);
  else if (bits === 24) {
    view.setUint16(at, count & 0xffff, true);
    view.setInt8(at + 2, count >> 16);
  } else view.setInt32(at, count, true);
}

/** Numbers between −1 and 1 that a seed decides. */
export function noiseOf(length: number, seed = 1): Float64Array {
  let state = seed;
  return Float64Array.from({ length }, () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 31 - 1;
  });
}
