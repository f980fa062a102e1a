// The room for samples: beyond it the oldest go, what stands behind holds last, and what was made of them stays.
import { describe, expect, test } from 'vitest';
import { openJournal, type Arrival, type Journal } from '../../../services/journal/index.ts';
import { holdsPinning, PINNED_AFTER, PINNED_AT_RELEASE, PINNED_BEFORE } from '../../../services/plant/wave-pins.ts';
import { makeRoom } from '../../../services/plant/wave-room.ts';
import type { Position } from '../../../shared/entries.ts';
import type { Hold, HoldState } from '../../../shared/holds.ts';

const BYTES = 1000;
const ABOUT = { device: 'q-1', channel: 'x', measuredAt: 1 };

function wave(spindleId: string): Arrival {
  const data = {
    spindleId,
    channel: 'x',
    sampleRateHz: 1000,
    encoding: 'int16',
    scaleMS2: 1,
    sampleCount: 500,
  } as const;
  return { draft: { at: 1, kind: 'wave', device: 'q-1', id: 'w', data }, counts: new Uint8Array(BYTES) };
}

function analysed(position: Position, summary?: Position): Arrival {
  const outcome = { kind: 'skipped', why: 'a test' } as const;
  const made = summary === undefined ? {} : { summary };
  return { draft: { at: 1, kind: 'analysed', wave: position, spindleId: 'S-1', ...ABOUT, ...made, outcome } };
}

interface Stepped {
  readonly state: HoldState;
  readonly cause: Position;
}

function hold(holdId: string, spindleId: string, steps: readonly Stepped[], positions: readonly Position[] = []): Hold {
  return {
    holdId,
    subject: { kind: 'spindle', id: spindleId },
    reason: 'overall-over-limit',
    state: steps.at(-1)?.state ?? 'raised',
    raisedAt: 1,
    evidence: { positions, clauses: [] },
    conditions: [],
    steps: steps.map((step) => ({ ...step, at: 1, by: 'the rules' })),
    dependents: [],
  };
}

/** So many windows of each spindle in turn, all of them analysed: positions 1, 2, 3 … */
async function withWindows(count: number, ...spindles: readonly string[]): Promise<Journal> {
  const journal = await openJournal({ store: 'memory' });
  const waves = Array.from({ length: count }, () => spindles.map(wave)).flat();
  await journal.append(waves, () => []);
  await journal.append(
    waves.map((_, index) => analysed(index + 1)),
    () => [],
  );
  return journal;
}

const keptIn = async (journal: Journal): Promise<readonly Position[]> =>
  (await journal.wavesKept({ after: 0, limit: 10_000 })).map(({ position }) => position);

test('nothing is said where no window ever came', async () => {
  const journal = await openJournal({ store: 'memory' });
  expect(await makeRoom(journal, [], 0)).toBeUndefined();
});

test('what fits stays; beyond, the oldest go, and their rows stay', async () => {
  const journal = await withWindows(300, 'S-1');
  expect(await makeRoom(journal, [], 300 * BYTES)).toEqual({
    windows: 300,
    bytes: 300 * BYTES,
    bytesMax: 300 * BYTES,
    waiting: 0,
    skipped: 300,
    pinned: 0,
    isOver: false,
  });
  expect(await makeRoom(journal, [], 10 * BYTES + 1)).toMatchObject({ windows: 10, bytes: 10 * BYTES, isOver: false });
  expect(await keptIn(journal)).toEqual([291, 292, 293, 294, 295, 296, 297, 298, 299, 300]);
  expect(await journal.waveAt(1)).toMatchObject({ state: 'skipped', body: undefined });
});

describe('behind holds', () => {
  test('the nearest before and the first after the raising, those at the release, and the evidence', async () => {
    const journal = await withWindows(50, 'S-1', 'S-2');
    // Odd positions are of S-1. A reading at 150 was made of the window at 3.
    await journal.append([analysed(3, 150)], () => []);
    const ended = hold(
      'H-40-1',
      'S-1',
      [
        { state: 'raised', cause: 40 },
        { state: 'released', cause: 80 },
      ],
      [7, 150],
    );
    const room = await makeRoom(journal, [ended], 0.5 * BYTES + 14 * BYTES);
    const kept = await keptIn(journal);
    const around = [33, 35, 37, 39, 41, 43, 45, 47, 77, 79, 81, 83];
    expect(around).toHaveLength(PINNED_BEFORE + PINNED_AFTER + 2 * PINNED_AT_RELEASE);
    expect(kept).toEqual([3, 7, ...around]);
    expect(room).toMatchObject({ windows: 14, pinned: 14, isOver: false });
    const pinned = await holdsPinning(journal, [ended], 'S-1');
    expect(pinned).toEqual(Object.fromEntries([3, 7, ...around].map((position) => [position, ['H-40-1']])));
    expect(await holdsPinning(journal, [ended], 'S-2')).toEqual({});
  });

  test('beyond that those behind ended holds go, oldest first; those behind open ones stay, and it is said', async () => {
    const journal = await withWindows(20, 'S-1', 'S-2');
    const ended = hold('H-10-1', 'S-1', [
      { state: 'raised', cause: 10 },
      { state: 'void', cause: 20 },
    ]);
    const open = hold('H-30-1', 'S-2', [
      { state: 'raised', cause: 30 },
      { state: 'taken', cause: 31 },
    ]);
    const behindOpen = [22, 24, 26, 28, 30, 32, 34, 36];
    expect(await makeRoom(journal, [ended, open], 10 * BYTES)).toMatchObject({
      windows: 10,
      pinned: 10,
      isOver: false,
    });
    expect(await keptIn(journal)).toEqual([15, 17, ...behindOpen]);
    expect(await makeRoom(journal, [ended, open], 3 * BYTES)).toMatchObject({ windows: 8, pinned: 8, isOver: true });
    expect(await keptIn(journal)).toEqual(behindOpen);
  });

  test('on an assembly: of the spindle that its evidence names', async () => {
    const journal = await withWindows(20, 'S-1', 'S-2');
    const raised = hold('H-30-1', 'S-2', [{ state: 'raised', cause: 30 }]);
    const subject = { kind: 'assembly', id: 'A-1' } as const;
    await makeRoom(journal, [{ ...raised, subject, evidence: { ...raised.evidence, spindleId: 'S-1' } }], 0);
    expect(await keptIn(journal)).toEqual([23, 25, 27, 29, 31, 33, 35, 37]);
  });
});

test('what was not analysed yet goes after what was', async () => {
  const journal = await openJournal({ store: 'memory' });
  await journal.append([wave('S-1'), wave('S-1'), wave('S-1'), wave('S-1')], () => []);
  await journal.append([analysed(3), analysed(4)], () => []);
  await makeRoom(journal, [], 2 * BYTES);
  expect(await keptIn(journal)).toEqual([1, 2]);
  expect(await makeRoom(journal, [], BYTES)).toMatchObject({ windows: 1, waiting: 1 });
  expect(await keptIn(journal)).toEqual([2]);
});
