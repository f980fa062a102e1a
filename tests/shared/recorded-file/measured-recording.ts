// Recordings of a motor test bench, as one brings them: exported as a table or as a WAV file. Their source is beside them.
import { readFileSync } from 'node:fs';
import { bytesOf, waveFile } from './written-file.ts';

export const RATE_HZ = 20_000;
/** What the full scale of the WAV files stands for. */
export const FULL_SCALE_G = 50;

const folder = new URL('../vibration/measured/adi-cbm-motor/', import.meta.url);

interface Expected {
  readonly stats: { readonly rms: number; readonly peak: number; readonly kurtosis: number };
  readonly full_40000: { readonly vel_rms_mm_s: number };
}
interface ExpectedFile {
  readonly files: Readonly<Record<string, { readonly expected?: Expected }>>;
}

/** Reference results: g and mm/s. */
export function expectedOf(name: string): Expected {
  const { files } = JSON.parse(readFileSync(new URL('expected.json', folder), 'utf8')) as ExpectedFile;
  const found = files[name]?.expected;
  if (found === undefined) throw new Error(`no reference results of ${name}`);
  return found;
}

/** In g. */
export function measuredG(name: string): Float32Array {
  const bytes = readFileSync(new URL(name, folder));
  return new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4);
}

/** Nine digits: what a float32 holds, none lost. */
export function asTable(names: readonly string[], heads: readonly string[] = names): Uint8Array {
  const channels = names.map(measuredG);
  const rows = Array.from(
    channels[0] ?? [],
    (_, i) => `${(i / RATE_HZ).toFixed(6)};${channels.map((channel) => (channel[i] ?? 0).toPrecision(9)).join(';')}`,
  );
  return bytesOf(`time [s];${heads.map((head) => `${head} [g]`).join(';')}\n${rows.join('\n')}\n`);
}

export function asWave(
  names: readonly string[],
  bits: 16 | 24 | 32,
  coding: 'whole' | 'floating' = 'whole',
): Uint8Array {
  const scale = coding === 'whole' ? FULL_SCALE_G : 1;
  const channels = names.map((name) => measuredG(name).map((value) => value / scale));
  return waveFile({ sampleRateHz: RATE_HZ, channels, bits, coding });
}
