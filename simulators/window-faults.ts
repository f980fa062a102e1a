// What a faulty sensor makes of a raw window: rails that clip, nothing, hum of the mains, the same again and again.
import type { Condition } from './faults.ts';
import { prngOf, type Prng } from './prng.ts';
import { INCOHERENT_SHARE } from './sensor-faults.ts';

const HUM_HZ = 50;

/** What a faulty sensor makes of a window, m/s², in place. */
export function spoiled(
  values: Float64Array,
  { sensor, noiseMmS }: Pick<Condition, 'sensor' | 'noiseMmS'>,
  { sampleRateHz, prng }: { readonly sampleRateHz: number; readonly prng: Prng },
): void {
  switch (sensor) {
    case 'sound':
    case 'silent':
      return;
    case 'flat':
    case 'dead':
      values.fill(0);
      return;
    case 'clipped': {
      // It clips at its rails, far below what it should bear: half of what it has to bear just now.
      const rail = 0.5 * values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
      for (let n = 0; n < values.length; n += 1) values[n] = Math.max(-rail, Math.min(rail, values[n] ?? 0));
      return;
    }
    case 'noisy': {
      // Hum of the mains and its harmonics: v·ω, RMS to peak.
      const phase = 2 * Math.PI * prng.next();
      const hum = (Math.SQRT2 * noiseMmS * 2 * Math.PI * HUM_HZ) / 1000;
      for (let n = 0; n < values.length; n += 1)
        values[n] = (values[n] ?? 0) + hum * Math.cos((2 * Math.PI * HUM_HZ * n) / sampleRateHz + phase);
      return;
    }
    case 'incoherent':
      for (let n = 0; n < values.length; n += 1) values[n] = (values[n] ?? 0) * INCOHERENT_SHARE;
      return;
    case 'stuck': {
      const same = prngOf('a window that never changes');
      for (let n = 0; n < values.length; n += 1) values[n] = 3.07 * same.gaussian();
    }
  }
}
