// Counts of a converter into acceleration, into room that is used again for the next window.
import { say } from '../../shared/language/index.ts';
import type { Wave } from '../../shared/messages/index.ts';

const COUNT_BYTES: Readonly<Record<Wave['encoding'], number>> = { int16: 2, float32: 4 };

/** Larger than this is given back after use: few windows are so long. */
const KEPT_SAMPLES_MAX = 131_072;

export class SampleRoom {
  #room = new Float64Array(0);

  /** m/s², valid until the next call. Throws where the bytes are no whole number of counts. */
  accelerationOf(counts: Uint8Array, { encoding, scaleMS2 }: Pick<Wave, 'encoding' | 'scaleMS2'>): Float64Array {
    const countBytes = COUNT_BYTES[encoding];
    if (counts.byteLength % countBytes !== 0)
      throw new Error(say`expected whole counts of ${countBytes} bytes, got ${counts.byteLength} bytes`);
    const samples = counts.byteLength / countBytes;
    const acceleration = this.#roomFor(samples);
    const view = new DataView(counts.buffer, counts.byteOffset, counts.byteLength);
    for (let index = 0; index < samples; index += 1) {
      const offset = index * countBytes;
      const count = encoding === 'int16' ? view.getInt16(offset, true) : view.getFloat32(offset, true);
      acceleration[index] = count * scaleMS2;
    }
    return acceleration;
  }

  #roomFor(samples: number): Float64Array {
    if (samples > KEPT_SAMPLES_MAX) return new Float64Array(samples);
    if (this.#room.length < samples) this.#room = new Float64Array(samples);
    return this.#room.subarray(0, samples);
  }
}
