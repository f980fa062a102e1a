// Windows for the tests of the analysis.
import type { WaveJob } from '../../../shared/wave-job.ts';

interface Wanted {
  readonly waveId: number;
  readonly device?: string;
  readonly bytes?: number;
}

/** A window of which only its place and its size matter. */
export function windowJob({ waveId, device = 'S-1', bytes = 512 }: Wanted): WaveJob {
  return { ...sineJob({ waveId, samples: 1 }), device, counts: new Uint8Array(bytes) };
}

interface SineWanted {
  readonly waveId: number;
  readonly samples?: number;
  readonly sampleRateHz?: number;
  readonly frequencyHz?: number;
  readonly amplitudeMS2?: number;
}

const SCALE_MS2 = 0.001;

/** A pure sine at the shaft's speed, as int16. */
export function sineJob({
  waveId,
  samples = 8192,
  sampleRateHz = 8192,
  frequencyHz = 100,
  amplitudeMS2 = 10,
}: SineWanted): WaveJob {
  const counts = Int16Array.from({ length: samples }, (_, index) =>
    Math.round((amplitudeMS2 / SCALE_MS2) * Math.sin((2 * Math.PI * frequencyHz * index) / sampleRateHz)),
  );
  return {
    waveId,
    device: 'S-1',
    spindleId: 'SP-1',
    at: 1_000 * waveId,
    wave: {
      channel: 'radial-x',
      sampleRateHz,
      encoding: 'int16',
      scaleMS2: SCALE_MS2,
      speedRpm: frequencyHz * 60,
    },
    counts: new Uint8Array(counts.buffer),
    bearings: [],
    makesReading: true,
  };
}
