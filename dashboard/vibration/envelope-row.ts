// The lines of an envelope's spectrum that mean anything, and their floor, the same as the analysis takes. Pure.
import { envelopeFloor } from '../../shared/vibration/index.ts';
import type { Envelope } from './spectra.ts';

export interface EnvelopeRow {
  /** RMS of each line, m/s², up to the width of the band: an envelope has none beyond. */
  readonly rms: Float64Array;
  /** RMS of the median line, m/s². */
  readonly floor: number;
}

/** Of a band that holds so many turns where the speed is not known, as in the analysis. */
const TURNS_UNTOLD = 12;

export function envelopeRow({ bandHz, spectrum }: Envelope, shaftHz: number | undefined): EnvelopeRow {
  const widthHz = bandHz[1] - bandHz[0];
  const rms = spectrum.amplitude.slice(0, Math.floor(widthHz / spectrum.stepHz) + 1).map((value) => value / Math.SQRT2);
  // The mean of an envelope is no line: it would make all others small.
  rms[0] = 0;
  return { rms, floor: envelopeFloor(spectrum, shaftHz ?? widthHz / TURNS_UNTOLD, widthHz) / Math.SQRT2 };
}
