// The usual spectrum of a channel at one speed, which tells a sensor that came loose; after a day of another it becomes usual itself.
import { thirdOctaves } from '../../shared/vibration/index.ts';
import type { HealthFinding, WaveAnalysis } from '../../shared/wave-analysis.ts';
import type { UsualSpectrum } from './window-facts.ts';
import { USUAL_ANEW_WINDOWS, USUAL_WINDOWS_MAX } from './window-limits.ts';

/** With one more healthy window; the mean forgets as one of USUAL_WINDOWS_MAX windows does. Another sampling rate begins anew. */
export function spectrumWith(
  known: UsualSpectrum | undefined,
  levels: WaveAnalysis['levels'],
): UsualSpectrum | undefined {
  if (levels === undefined) return known;
  const now = thirdOctaves(levels);
  if (known === undefined || known.thirdsMmS.length !== now.length) return { windows: 1, thirdsMmS: now };
  const before = Math.min(known.windows, USUAL_WINDOWS_MAX - 1);
  const thirdsMmS = known.thirdsMmS.map((was, band) => Math.sqrt((before * was ** 2 + now[band]! ** 2) / (before + 1)));
  return { windows: before + 1, thirdsMmS };
}

/** With a window in which nothing but the mount seemed wrong: after so many in a row their spectrum is what is usual. */
export function spectrumRinging(known: UsualSpectrum, levels: WaveAnalysis['levels']): UsualSpectrum {
  const ringing = (known.ringing ?? 0) + 1;
  if (ringing < USUAL_ANEW_WINDOWS || levels === undefined) return { ...known, ringing };
  return { windows: 1, thirdsMmS: thirdOctaves(levels) };
}

/** Nothing is said of such a window but that its sensor seems to ring on its mount. */
export function ringsOnly(health: readonly HealthFinding[]): boolean {
  return health.length > 0 && health.every(({ kind }) => kind === 'mounting');
}

/** Whether with a window that rings its spectrum became what is usual. */
export function spectrumBegan(before: UsualSpectrum | undefined, after: UsualSpectrum | undefined): boolean {
  return before?.ringing === USUAL_ANEW_WINDOWS - 1 && after?.ringing === undefined;
}
