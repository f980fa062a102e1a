// The shaft's frequency as an envelope has it: its first two orders stand there sharp, whatever else the vibration holds.
import type { Spectrum } from './spectrum.ts';

/** A line of the shaft has to stand so many times above the floor before it is believed: of noise one line in 2^25 does. */
const STANDING = 5;

interface Top {
  readonly hz: number;
  readonly height: number;
}

/** The highest top within a share of a frequency, placed between lines by the parabola through the logarithms of three. */
function highestTop({ amplitude, stepHz }: Spectrum, hz: number, within: number): Top | undefined {
  const at = hz / stepHz;
  const reach = Math.max(1, within * at);
  let best = 0;
  let height = 0;
  for (let k = Math.max(2, Math.ceil(at - reach)); k <= Math.min(amplitude.length - 2, at + reach); k += 1) {
    const here = amplitude[k]!;
    if (here <= height || here < amplitude[k - 1]! || here < amplitude[k + 1]!) continue;
    best = k;
    height = here;
  }
  if (best === 0) return undefined;
  const [before, here, after] = [amplitude[best - 1]!, amplitude[best]!, amplitude[best + 1]!].map(Math.log);
  const bend = before! - 2 * here! + after!;
  const beside = bend < 0 && Number.isFinite(bend) ? (0.5 * (before! - after!)) / bend : 0;
  return { hz: (best + beside) * stepHz, height };
}

/**
 * The shaft's frequency from the first two orders of an envelope's spectrum, within a share of one that was told or found in the
 * vibration; that one where neither order stands. Higher orders are not asked: rows of lines a few percent off every order (an inner
 * race with its sidebands, a motor's slip) would pass for them. Lines beside the orders draw the sine fit of the velocity off by up
 * to a percent where the shaft's own are small, and at order 4 that is enough to take the shaft for a bearing.
 */
export function shaftInEnvelope(spectrum: Spectrum, shaftHz: number, floor: number, within: number): number {
  let best = shaftHz;
  let most = STANDING * floor;
  for (const order of [1, 2]) {
    const top = highestTop(spectrum, order * shaftHz, within);
    if (top === undefined || top.height < most) continue;
    // The second order is placed twice as well as the first; only a first that stands higher displaces it.
    most = top.height;
    best = top.hz / order;
  }
  return best;
}
