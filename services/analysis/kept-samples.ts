// The samples of a kept window as acceleration, for whoever draws them.
import type { WaveSamples } from '../../shared/wave-job.ts';
import { unpackCounts } from '../packing/index.ts';
import { SampleRoom } from './samples.ts';

export interface KeptAcceleration {
  readonly sampleRateHz: number;
  /** m/s²; single precision, which holds every int16 count. */
  readonly accelerationMS2: Float32Array<ArrayBuffer>;
}

export function keptAcceleration({ wave, packing, bytes }: WaveSamples): KeptAcceleration {
  const counts = packing === 'packed' ? unpackCounts(bytes, wave.encoding) : bytes;
  const accelerationMS2 = Float32Array.from(new SampleRoom().accelerationOf(counts, wave));
  return { sampleRateHz: wave.sampleRateHz, accelerationMS2 };
}
