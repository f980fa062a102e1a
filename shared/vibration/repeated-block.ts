// Blocks of samples that came twice: a buffer sent again, which no vibration does to the last bit.
import { say } from '../language/index.ts';
import type { HealthFinding } from '../wave-analysis.ts';
import { stretch } from './health-words.ts';
import type { VibrationWindow } from './window.ts';

/** Samples that are compared at once when a repetition is looked for. */
const SEEN_SAMPLES = 32;

/** So many samples have to agree to the last bit; buffers of converters are longer (common practice, no source). */
const REPEATED_MIN = 64;

/** Of these, so many have to differ from the one before: a signal that hardly moves agrees with itself by chance. */
const CHANGES_MIN = 32;

/** One place in so many is remembered: any 64 samples hold a whole block of 32 that was. */
const REMEMBERED_EVERY = 16;

/** Places of the table, kept; longer windows are looked through with a longer one that is not. */
const KEPT_PLACES = 2 ** 13;
let kept: Int32Array | undefined;

function tableFor(samples: number): Int32Array {
  let places = KEPT_PLACES;
  while (places < (4 * samples) / REMEMBERED_EVERY) places *= 2;
  if (places > KEPT_PLACES) return new Int32Array(places).fill(-1);
  kept ??= new Int32Array(KEPT_PLACES);
  return kept.fill(-1);
}

/** Rolls over the samples' bits: multiplied by an odd number, the oldest taken out again. */
const FACTOR = 0x01000193;

function oldestFactor(): number {
  let factor = 1;
  for (let i = 0; i < SEEN_SAMPLES; i += 1) factor = Math.imul(factor, FACTOR);
  return factor;
}
const OLDEST_FACTOR = oldestFactor();

function mixed(bits: Uint32Array, n: number): number {
  let mix = bits[2 * n]! ^ Math.imul(bits[2 * n + 1]!, 0x9e3779b1);
  mix = Math.imul(mix ^ (mix >>> 15), 0x85ebca6b);
  return mix ^ (mix >>> 13);
}

interface Repetition {
  readonly from: number;
  readonly earlier: number;
  readonly length: number;
}

/** How far samples from `later` on equal those from `earlier` on, and how often they change on the way. */
function agreement(samples: Float64Array, earlier: number, later: number): { length: number; changes: number } {
  let length = 0;
  let changes = 0;
  while (later + length < samples.length && samples[earlier + length] === samples[later + length]) {
    if (length > 0 && samples[later + length] !== samples[later + length - 1]) changes += 1;
    length += 1;
  }
  return { length, changes };
}

function firstRepetition(samples: Float64Array): Repetition | undefined {
  // The bits of the samples as they lie in memory; which half comes first makes no difference to equality.
  const bits = new Uint32Array(samples.buffer, samples.byteOffset, 2 * samples.length);
  const table = tableFor(samples.length);
  const mask = table.length - 1;
  let hash = 0;
  for (let n = 0; n < samples.length; n += 1) {
    hash = (Math.imul(hash, FACTOR) + mixed(bits, n)) | 0;
    if (n >= SEEN_SAMPLES) hash = (hash - Math.imul(OLDEST_FACTOR, mixed(bits, n - SEEN_SAMPLES))) | 0;
    if (n < SEEN_SAMPLES - 1) continue;
    const from = n - SEEN_SAMPLES + 1;
    const place = (hash ^ (hash >>> 16)) & mask;
    const earlier = table[place]!;
    if (earlier >= 0 && samples[earlier] === samples[from]) {
      const { length, changes } = agreement(samples, earlier, from);
      if (length >= REPEATED_MIN - REMEMBERED_EVERY && changes >= CHANGES_MIN) return { from, earlier, length };
    }
    if (from % REMEMBERED_EVERY === 0) table[place] = from;
  }
  return undefined;
}

/** A stretch that equals an earlier one to the last bit. */
export function repeatedBlock(window: VibrationWindow): HealthFinding | undefined {
  const { accelerationMS2: samples, sampleRateHz } = window;
  const found = firstRepetition(samples);
  if (found === undefined) return undefined;
  const { from, earlier, length } = found;
  return {
    kind: 'repeated',
    weight: 'unusable',
    words: say`${length} samples from ${stretch(from / sampleRateHz)} on are to the last bit those from ${stretch(earlier / sampleRateHz)} on: a part of the recording was sent twice. Its spectrum is not that of the machine: check the sensor’s firmware and the link.`,
  };
}
