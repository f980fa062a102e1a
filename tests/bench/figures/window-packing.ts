// What packing saves of raw windows as they are measured, and what it costs the thread that analyses them.
import { readdirSync, readFileSync } from 'node:fs';
import { packCounts, unpackCounts } from '../../../services/packing/index.ts';
import { listed, median, type Bench } from '../figure.ts';

/** Beside the sources: the build holds programs only. */
const MEASURED = new URL('../../../../tests/shared/vibration/measured/adi-cbm-motor/', import.meta.url);
/** Of a converter of 16 bits over ± 40 g. */
const COUNT_G = 40 / 32_768;
const WINDOW_SAMPLES = 8192;
const METHOD =
  `windows of ${WINDOW_SAMPLES} samples from recordings of a motor bench, one axis each, as counts of 16 bits over ± 40 g; ` +
  'packed and unpacked in the bench’s own thread, one after another.';

export const windowPacking: Bench = {
  figures: [
    { name: 'packing.ratio_int16', unit: '1', better: 'lower', baseline: null, method: METHOD },
    { name: 'packing.ms_a_window', unit: 'ms', better: 'lower', baseline: null, method: METHOD },
  ],
  run: async ({ repeats }) => {
    const windows = measuredWindows();
    const ratios = windows.map((counts) => (packCounts(counts, 'int16') ?? counts).length / counts.length);
    const packMs: number[] = [];
    const unpackMs: number[] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      const begun = performance.now();
      const packed = windows.map((counts) => packCounts(counts, 'int16') ?? counts);
      const between = performance.now();
      for (const one of packed) unpackCounts(one, 'int16');
      packMs.push((between - begun) / windows.length);
      unpackMs.push((performance.now() - between) / windows.length);
    }
    return {
      values: { 'packing.ratio_int16': median(ratios), 'packing.ms_a_window': median(packMs) },
      details: [
        `${windows.length} windows; ratios from ${Math.min(...ratios).toFixed(3)} to ${Math.max(...ratios).toFixed(3)}`,
        `packing ${listed(packMs, 2)} ms, unpacking ${listed(unpackMs, 2)} ms a window`,
      ],
    };
  },
};

function measuredWindows(): Uint8Array[] {
  const recordings = readdirSync(MEASURED).filter((name) => name.endsWith('.f32'));
  return recordings.map((name) => {
    const bytes = Uint8Array.from(readFileSync(new URL(name, MEASURED)));
    const singles = new Float32Array(bytes.buffer).subarray(0, WINDOW_SAMPLES);
    return new Uint8Array(Int16Array.from(singles, (g) => Math.round(g / COUNT_G)).buffer);
  });
}
