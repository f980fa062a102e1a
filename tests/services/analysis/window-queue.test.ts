import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WindowQueue } from '../../../services/analysis/window-queue.ts';
import { windowJob } from './windows.ts';

const LIMITS = { windowsMax: 6, bytesMax: 1e6, windowsPerChannelMax: 4 };

const ids = (jobs: readonly { readonly waveId: number }[]): readonly number[] => jobs.map(({ waveId }) => waveId);

function drained(queue: WindowQueue): readonly number[] {
  const taken: number[] = [];
  for (let job = queue.take(); job !== undefined; job = queue.take()) taken.push(job.waveId);
  return taken;
}

describe('windows that wait', () => {
  it('are taken in turn of their channels, the oldest of a channel first', () => {
    const queue = new WindowQueue(LIMITS);
    for (const waveId of [1, 2, 3]) queue.add(windowJob({ waveId, device: 'S-1' }));
    queue.add(windowJob({ waveId: 4, device: 'S-2' }));
    expect(drained(queue)).toEqual([1, 4, 2, 3]);
  });

  it('of one talkative channel are skipped, the oldest first, and no other channel loses one', () => {
    const queue = new WindowQueue(LIMITS);
    queue.add(windowJob({ waveId: 1, device: 'S-2' }));
    const skipped = [2, 3, 4, 5, 6, 7, 8].flatMap((waveId) => queue.add(windowJob({ waveId, device: 'S-1' })));
    expect(ids(skipped)).toEqual([2, 3, 4]);
    expect(drained(queue)).toEqual([1, 5, 6, 7, 8]);
  });

  it('beyond the room of all cost the channel that has most of them', () => {
    const queue = new WindowQueue(LIMITS);
    for (const waveId of [1, 2, 3]) queue.add(windowJob({ waveId, device: 'S-1' }));
    for (const waveId of [4, 5]) queue.add(windowJob({ waveId, device: 'S-2' }));
    expect(queue.add(windowJob({ waveId: 6, device: 'S-3' }))).toEqual([]);
    expect(ids(queue.add(windowJob({ waveId: 7, device: 'S-4' })))).toEqual([1]);
  });

  it('are bounded in bytes, and one that is larger alone still waits', () => {
    const queue = new WindowQueue({ ...LIMITS, bytesMax: 1000 });
    expect(queue.add(windowJob({ waveId: 1, bytes: 4000 }))).toEqual([]);
    expect(ids(queue.add(windowJob({ waveId: 2, bytes: 400, device: 'S-2' })))).toEqual([1]);
    expect(queue.length).toBe(1);
  });

  it('are each taken or skipped once, whatever comes', () => {
    const job = fc.record({ device: fc.constantFrom('S-1', 'S-2', 'S-3'), bytes: fc.integer({ min: 1, max: 900 }) });
    fc.assert(
      fc.property(fc.array(fc.oneof(job, fc.constant('take' as const)), { maxLength: 60 }), (steps) => {
        const queue = new WindowQueue({ ...LIMITS, bytesMax: 2000 });
        const seen: number[] = [];
        let offered = 0;
        for (const step of steps) {
          if (step === 'take') seen.push(...[queue.take()?.waveId].filter((id) => id !== undefined));
          else seen.push(...ids(queue.add(windowJob({ ...step, waveId: (offered += 1) }))));
          expect(queue.length).toBeLessThanOrEqual(LIMITS.windowsMax);
        }
        seen.push(...drained(queue));
        expect(seen.toSorted((a, b) => a - b)).toEqual(Array.from({ length: offered }, (_, index) => index + 1));
      }),
    );
  });
});
