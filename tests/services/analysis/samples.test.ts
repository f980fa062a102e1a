import { describe, expect, it } from 'vitest';
import { SampleRoom } from '../../../services/analysis/samples.ts';

const INT16 = { encoding: 'int16', scaleMS2: 0.5 } as const;

describe('counts of a converter', () => {
  it('become acceleration by their scale, whatever else lies in the buffer', () => {
    const whole = Buffer.alloc(9);
    whole.writeInt16LE(-32_768, 1);
    whole.writeInt16LE(3, 3);
    whole.writeInt16LE(32_767, 5);
    expect([...new SampleRoom().accelerationOf(whole.subarray(1, 7), INT16)]).toEqual([-16_384, 1.5, 16_383.5]);
  });

  it('are single-precision numbers as well', () => {
    const counts = Buffer.alloc(8);
    counts.writeFloatLE(0.25, 0);
    counts.writeFloatLE(-2, 4);
    expect([...new SampleRoom().accelerationOf(counts, { encoding: 'float32', scaleMS2: 10 })]).toEqual([2.5, -20]);
  });

  it('are whole', () => {
    expect(() => new SampleRoom().accelerationOf(new Uint8Array(5), INT16)).toThrow('whole counts of 2 bytes');
  });

  it('of a shorter window leave nothing of a longer one before it', () => {
    const room = new SampleRoom();
    room.accelerationOf(new Uint8Array(8).fill(1), INT16);
    expect([...room.accelerationOf(new Uint8Array(4), INT16)]).toEqual([0, 0]);
  });
});
