// How far a speed may be off; beside the schemas, so that a page that tells it loads none.
import type { WaveAnalysis } from './wave-analysis.ts';

/**
 * How far a speed that was sought in the samples may be off, in rpm: one line of the window's spectrum, which the fit never leaves.
 * A clear line is known far better; where the shaft's is weak, three axes of one recording were up to 0.75 lines apart. Undefined for
 * a speed of another source.
 */
export function speedWithinRpm({
  speedFrom,
  sampleRateHz,
  samples,
}: Pick<WaveAnalysis, 'speedFrom' | 'sampleRateHz' | 'samples'>): number | undefined {
  return speedFrom === 'refined' ? (60 * sampleRateHz) / samples : undefined;
}
