// Raw windows as a sensor of the tests sends them: a sine that a person can check by hand, in JSON and in CBOR.
import { encode, Tagged } from 'cborg';
import { sealed } from './stand.ts';

export const SAMPLE_RATE_HZ = 8192;
export const SAMPLES = 8192;
export const SCALE_MS2 = 0.001;
export const SPEED_RPM = 12_000;
/** 200 Hz at 12,000 rpm; v = a / 2πf: 5 m/s² peak is 3.979 mm/s peak, 2.813 mm/s RMS. */
export const AMPLITUDE_MS2 = 5;
export const OVERALL_MMS = 2.813;

/** `phase` makes each window another. */
export function sineCounts(phase = 0, speedRpm = SPEED_RPM): Int16Array<ArrayBuffer> {
  const hertz = speedRpm / 60;
  return Int16Array.from({ length: SAMPLES }, (_, n) =>
    Math.round((AMPLITUDE_MS2 / SCALE_MS2) * Math.sin((2 * Math.PI * hertz * n) / SAMPLE_RATE_HZ + phase)),
  );
}

export function waveData(counts: Int16Array<ArrayBuffer>, more: Record<string, unknown> = {}): Record<string, unknown> {
  return {
    channel: 'radial-x',
    sampleRateHz: SAMPLE_RATE_HZ,
    encoding: 'int16',
    scaleMS2: SCALE_MS2,
    samples: Buffer.from(counts.buffer).toString('base64'),
    speedRpm: SPEED_RPM,
    ...more,
  };
}

/** The same in CBOR, its samples as a typed array (RFC 8746, tag 77: int16, little-endian). */
export function cborWave(device: string, counts: Int16Array<ArrayBuffer>): Buffer {
  const { data, ...envelope } = JSON.parse(jsonWave(device, counts)) as { data: Record<string, unknown> };
  const { encoding: _encoding, ...rest } = data;
  const samples = new Tagged(77, new Uint8Array(counts.buffer));
  return Buffer.from(encode({ ...envelope, data: { ...rest, samples } }));
}

export function jsonWave(device: string, counts: Int16Array<ArrayBuffer>, more: Record<string, unknown> = {}): string {
  return sealed(device, 'wave', waveData(counts, more));
}
