// The rows that faults are planted into, measured and invented, and what is said of the health of each.
import { readFileSync } from 'node:fs';
import { analyseWindow, type AnalysisSettings, type VibrationWindow } from '../../../shared/vibration/index.ts';
import type { HealthFinding, HealthKind } from '../../../shared/wave-analysis.ts';
import type { Plant } from './planted-faults.ts';
import { inventedMachine } from './invented-machine.ts';

const G = 9.80665;
const folder = new URL('./measured/adi-cbm-motor/', import.meta.url);
const { files } = JSON.parse(readFileSync(new URL('expected.json', folder), 'utf8')) as {
  readonly files: Readonly<Record<string, { readonly rpm: number }>>;
};

export interface Row {
  readonly name: string;
  readonly window: VibrationWindow;
}
export const REAL: readonly Row[] = Object.entries(files).map(([name, { rpm }]) => {
  const bytes = readFileSync(new URL(name, folder));
  const floats = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4);
  const accelerationMS2 = Float64Array.from(floats, (g) => g * G);
  return { name, window: { accelerationMS2, sampleRateHz: 20_000, speedRpm: rpm } };
});
export const INVENTED: readonly Row[] = Array.from({ length: 8 }, (_, i) => ({
  name: `invented ${i + 1}`,
  window: inventedMachine(i + 1),
}));
export const ALL = [...REAL, ...INVENTED];

export function said(window: VibrationWindow, settings: AnalysisSettings = {}): readonly HealthFinding[] {
  return analyseWindow(window, settings).health;
}
export const kinds = (findings: readonly HealthFinding[]): HealthKind[] => findings.map((finding) => finding.kind);

/** How many of the rows say a kind after something was planted into each. */
export function found(
  rows: readonly Row[],
  kind: HealthKind,
  change: (window: VibrationWindow, seed: number) => VibrationWindow,
) {
  return rows.filter(({ window }, i) => kinds(said(change(window, i + 1))).includes(kind)).length;
}
export const withSamples =
  (planted: Plant) =>
  (window: VibrationWindow, seed: number): VibrationWindow => ({
    ...window,
    accelerationMS2: planted(window.accelerationMS2, seed),
  });
