// How large the samples of a raw window may be: beyond any shock a number is no acceleration.
import { expect, test } from 'vitest';
import { takeSamples, type WaveData } from '../../../services/intake/wave-samples.ts';

const SAMPLES = 256;

function faultsOf(encoding: WaveData['encoding'], scaleMS2: number, sample: number): readonly unknown[] {
  const values = encoding === 'int16' ? new Int16Array(SAMPLES) : new Float32Array(SAMPLES);
  values[200] = sample;
  const data: WaveData = { channel: 'radial-x', sampleRateHz: 25_600, encoding, scaleMS2 };
  const taken = takeSamples(data, new Uint8Array(values.buffer));
  return 'problem' in taken ? (taken.problem.errors ?? []) : [];
}

const fault = (got: string): object => ({
  pointer: '/data/samples',
  want: 'accelerations, the number times scaleMS2, up to 1000000 m/s²',
  got,
});

test.each([
  ['float32', 1, -1e6, []],
  ['float32', 0.001, 1e9, []],
  ['int16', 31, -32_000, []],
  ['int16', 1e6, 1, []],
  ['float32', 1, 1.001e6, [fault('one of 1001000 m/s²')]],
  ['float32', 1e6, -1e35, [fault('one of 1e+41 m/s²')]],
  ['int16', 100, -32_000, [fault('one of 3200000 m/s²')]],
] as const)('%s at %d m/s² a count, one of %d', (encoding, scaleMS2, sample, faults) => {
  expect(faultsOf(encoding, scaleMS2, sample)).toEqual(faults);
});
