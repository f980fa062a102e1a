// A raw window's samples: base64 or bytes → counts in memory of their own, little-endian, or what is wrong with them.
import { say } from '../../shared/language/index.ts';
import { WAVE_MS2_MAX, WAVE_SAMPLES_LARGE_MAX, WAVE_SAMPLES_MIN, type Wave } from '../../shared/messages/index.ts';
import type { FieldFault, Problem } from '../../shared/problem.ts';
import { refusal, shown } from './refusals.ts';

export type Encoding = Wave['encoding'];

export const BYTES_PER_SAMPLE: Readonly<Record<Encoding, number>> = { int16: 2, float32: 4 };

/** A window may be recorded without its samples, once they were dropped. */
export type WaveData = Omit<Wave, 'samples'> & { samples?: string; sampleCount?: number };

/**
 * Takes the samples out of the data, which then say how many there are. `counts`: as they came, where they were bytes
 * already. Nothing where a recording has none.
 */
export function takeSamples(data: WaveData, counts?: Uint8Array): { counts?: Uint8Array } | { problem: Problem } {
  const { samples } = data;
  delete data.samples;
  const taken = counts ?? (samples === undefined ? undefined : decoded(samples));
  if (taken === NOT_BASE64) {
    const fault = { pointer: '/data/samples', want: say`base64 (RFC 4648, 4), with its padding`, got: shown(samples) };
    return { problem: refusal('wrong-samples', [fault]) };
  }
  const faults = taken === undefined ? [] : samplesFaults(data, taken);
  faults.push(...tachoFaults(data));
  if (faults.length > 0) return { problem: refusal('wrong-samples', faults) };
  if (taken === undefined) return {};
  data.sampleCount = taken.length / BYTES_PER_SAMPLE[data.encoding];
  return { counts: taken };
}

/** In memory that nothing else stands in, so that it can be handed on to another thread. */
function decoded(base64: string): Uint8Array | typeof NOT_BASE64 {
  const bytes = Buffer.from(new ArrayBuffer(Buffer.byteLength(base64, 'base64')));
  // Decoding leaves out what it does not know: only what comes out the same again was nothing else.
  const written = bytes.write(base64, 'base64');
  if (written !== bytes.length || bytes.toString('base64') !== base64) return NOT_BASE64;
  return new Uint8Array(bytes.buffer);
}

const NOT_BASE64 = Symbol('not base64');

function samplesFaults({ encoding, scaleMS2 }: WaveData, counts: Uint8Array): FieldFault[] {
  const pointer = '/data/samples';
  const size = BYTES_PER_SAMPLE[encoding];
  if (counts.length % size !== 0) {
    return [{ pointer, want: say`${size} bytes for each sample of ${encoding}`, got: say`${counts.length} bytes` }];
  }
  const samples = counts.length / size;
  if (samples < WAVE_SAMPLES_MIN || samples > WAVE_SAMPLES_LARGE_MAX) {
    return [{ pointer, want: say`${WAVE_SAMPLES_MIN} to ${WAVE_SAMPLES_LARGE_MAX} samples`, got: `${samples}` }];
  }
  const odd = encoding === 'float32' ? notFinite(counts) : -1;
  if (odd >= 0) return [{ pointer, want: say`finite numbers`, got: say`sample ${odd} is ${oddWords(counts, odd)}` }];
  // No count of int16 reaches it at the usual scales: then nobody has to look.
  if (encoding === 'int16' && INT16_MOST * scaleMS2 <= WAVE_MS2_MAX) return [];
  const mostMS2 = greatestCount(encoding, counts) * scaleMS2;
  if (mostMS2 <= WAVE_MS2_MAX) return [];
  const want = say`accelerations, the number times scaleMS2, up to ${WAVE_MS2_MAX} m/s²`;
  return [{ pointer, want, got: say`one of ${Number(mostMS2.toPrecision(6))} m/s²` }];
}

/** Of absolute values. */
function greatestCount(encoding: Encoding, counts: Uint8Array): number {
  const view = new DataView(counts.buffer, counts.byteOffset, counts.length);
  let greatest = 0;
  if (encoding === 'int16') {
    for (let at = 0; at < counts.length; at += 2) greatest = Math.max(greatest, Math.abs(view.getInt16(at, true)));
  } else {
    for (let at = 0; at < counts.length; at += 4) greatest = Math.max(greatest, Math.abs(view.getFloat32(at, true)));
  }
  return greatest;
}

/** The first that is no number, or −1: an exponent of all ones is infinity or no number (IEEE 754). */
function notFinite(counts: Uint8Array): number {
  const view = new DataView(counts.buffer, counts.byteOffset, counts.length);
  for (let at = 0; at < counts.length; at += 4) {
    if ((view.getUint32(at, true) & EXPONENT) === EXPONENT) return at / 4;
  }
  return -1;
}

/** Of a sample that is not finite. */
function oddWords(counts: Uint8Array, sample: number): string {
  const view = new DataView(counts.buffer, counts.byteOffset, counts.length);
  return Number.isNaN(view.getFloat32(4 * sample, true)) ? say`not a number` : say`infinite`;
}

const EXPONENT = 0x7f80_0000;
const INT16_MOST = 32_768;

function tachoFaults({ tachoS }: WaveData): FieldFault[] {
  if (tachoS === undefined) return [];
  const back = tachoS.findIndex((mark, index) => index > 0 && mark <= (tachoS[index - 1] ?? 0));
  if (back < 0) return [];
  const got = `${tachoS[back]} after ${tachoS[back - 1]}`;
  return [{ pointer: `/data/tachoS/${back}`, want: say`a mark later than the one before`, got }];
}
