// The room that the samples of raw windows may take: beyond it the oldest go, those behind holds last.
import { setImmediate as breath } from 'node:timers/promises';
import type { Position } from '../../shared/entries.ts';
import type { Hold } from '../../shared/holds.ts';
import type { IntakeView } from '../../shared/views.ts';
import type { Journal, KeptWave } from '../journal/index.ts';
import { pinsOf, type Pins } from './wave-pins.ts';

/** Unless said otherwise: a year of a window an hour from each of 20 sensors, of 16,384 samples, packed. */
export const WAVE_BYTES_MAX = 5_000_000_000;

/** Rows that are looked at, and windows that are dropped, before messages have their turn again. */
const ROWS_AT_ONCE = 512;
const DROPPED_AT_ONCE = 64;

export type RoomTaken = NonNullable<IntakeView['windows']>;

type Windows = Pick<Journal, 'waveRoom' | 'wavesKept' | 'wavesOf' | 'wavesBehind' | 'dropWaves'>;

/**
 * Drops until what is kept fits: first what nobody holds on to, oldest first; then what was not analysed yet; then what
 * stands behind ended holds. What stands behind open holds stays, even where that alone is more, and that is said.
 * Undefined where no window ever came.
 */
export async function makeRoom(
  journal: Windows,
  holds: readonly Hold[],
  bytesMax: number,
): Promise<RoomTaken | undefined> {
  const before = await journal.waveRoom();
  if (before.windows === 0 && before.skipped === 0) return undefined;
  const pins = await pinsOf(journal, holds);
  let missing = before.bytes - bytesMax;
  for (const order of ORDER) {
    if (missing > 0) missing = await drop(journal, missing, (wave) => ranked(wave, pins) === order);
  }
  const { windows, bytes, waiting, skipped } = before.bytes > bytesMax ? await journal.waveRoom() : before;
  const pinned = new Set([...pins.byOpen.keys(), ...pins.byEnded.keys()]).size;
  return { windows, bytes, bytesMax, waiting, skipped, pinned: Math.min(pinned, windows), isOver: bytes > bytesMax };
}

const ORDER = ['free', 'waiting', 'behind-ended'] as const;

function ranked({ position, state }: KeptWave, { byOpen, byEnded }: Pins): (typeof ORDER)[number] | 'behind-open' {
  if (byOpen.has(position)) return 'behind-open';
  if (byEnded.has(position)) return 'behind-ended';
  return state === 'waiting' ? 'waiting' : 'free';
}

/** Oldest first, so many bytes or all that may be; gives back how many are still missing. */
async function drop(journal: Windows, bytes: number, mayGo: (wave: KeptWave) => boolean): Promise<number> {
  let missing = bytes;
  let after: Position = 0;
  while (missing > 0) {
    const page = await journal.wavesKept({ after, limit: ROWS_AT_ONCE });
    let going: Position[] = [];
    for (const wave of page) {
      if (missing <= 0) break;
      if (!mayGo(wave)) continue;
      going.push(wave.position);
      missing -= wave.bytes;
      if (going.length < DROPPED_AT_ONCE) continue;
      await journal.dropWaves(going);
      going = [];
      await breath();
    }
    if (going.length > 0) await journal.dropWaves(going);
    const last = page.at(-1);
    if (last === undefined) break;
    after = last.position;
    await breath();
  }
  return missing;
}
