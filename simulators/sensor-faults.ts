// What a faulty sensor makes of a window: silence, words about itself, or numbers that no spindle makes.
import type { Summary } from '../shared/messages/index.ts';
import { rounded } from './bench.ts';
import type { Condition } from './faults.ts';
import type { Prng } from './prng.ts';

const CLIPS_AT_MS2 = 160;
/** Of the whole that a sensor with one wrong gain still tells; its 1× part is as it was. */
export const INCOHERENT_SHARE = 0.35;

/** Undefined when it says nothing at all. */
export function distorted(
  honest: Summary,
  { sensor, noiseMmS }: Pick<Condition, 'sensor' | 'noiseMmS'>,
  noise: Pick<Prng, 'gaussian'>,
): Summary | undefined {
  const turns = honest.speedRpm > 0;
  switch (sensor) {
    case 'sound':
      return honest;
    case 'silent':
      return undefined;
    case 'flat':
      return { speedRpm: 0, overallMmS: 0, fault: 'flat' };
    case 'clipped':
      return turns ? { ...honest, accelerationPeakMS2: CLIPS_AT_MS2, fault: 'clipped' } : honest;
    case 'dead':
      return { ...honest, ...(turns ? frozen(0, 0, 0) : { overallMmS: 0 }) };
    case 'noisy': {
      const hum = noiseMmS * (1 + 0.1 * noise.gaussian());
      return { ...honest, overallMmS: rounded(Math.hypot(honest.overallMmS, hum), 3) };
    }
    case 'incoherent':
      return { ...honest, overallMmS: rounded(honest.overallMmS * INCOHERENT_SHARE, 3) };
    case 'stuck':
      return { ...honest, ...(turns ? frozen(0.62, 0.415, 3.07) : { overallMmS: 0.62 }) };
  }
}

function frozen(overallMmS: number, synchronousMmS: number, accelerationRmsMS2: number): Partial<Summary> {
  return { overallMmS, synchronousMmS, accelerationRmsMS2 };
}
