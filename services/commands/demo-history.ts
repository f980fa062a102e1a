// The invented past of the demonstration's plant: loaded once, and after an interruption from where it was.
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { MILLISECONDS_A_DAY, rfc3339Of, type Instant } from '../../shared/time.ts';
import { history, type TimedMessage } from '../../simulators/index.ts';
import type { PlantClient } from '../plant/index.ts';
import { VERSION } from '../version.ts';
import { Progress } from './progress.ts';

/** Enough to make the same past again. */
export interface Past {
  readonly plantId: string;
  readonly seed: number;
  readonly days: number;
  readonly until: Instant;
}

/** Of late, five or so readings while an assembly is clamped; of long ago, enough for a line over months. */
const DETAIL = {
  intervalS: 600,
  sparse: { olderThanDays: 14, intervalS: 1800 },
  // Enough columns for a picture over two weeks, and few enough that a first start is no longer for them.
  windows: { days: 14, everyHours: 12, lastDayEveryHours: 2 },
} as const;
/** Characters handed to the plant's thread at once. */
const PIECE_CHARACTERS = 1_000_000;

/** Present while the past is being loaded: it says which, and that what the journal has is a beginning of it. */
export class PastFile {
  readonly #path: string;

  constructor(path: string) {
    this.#path = path;
  }

  /** The past that was begun and not finished; undefined too when another version began it, which invents otherwise. */
  unfinished(): Past | undefined {
    if (!existsSync(this.#path)) return undefined;
    const { version, ...past } = JSON.parse(readFileSync(this.#path, 'utf8')) as Past & { version: string };
    return version === VERSION ? past : undefined;
  }

  begin(past: Past): Past {
    writeFileSync(this.#path, JSON.stringify({ ...past, version: VERSION }), { flag: 'wx' });
    return past;
  }

  finish(): void {
    rmSync(this.#path, { force: true });
  }
}

export function pastMessages(past: Past): Iterable<TimedMessage> {
  return history({ ...past, ...DETAIL, demonstrates: true });
}

/** From the `stored`th message on: each of them is one entry, so that the journal's position says how far it came. */
export async function loadPast(
  plant: Pick<PlantClient, 'call'>,
  past: Past,
  { stored, stop }: { readonly stored: number; readonly stop?: AbortSignal },
): Promise<void> {
  const progress = new Progress(`inventing ${past.days} days of history for plant ${past.plantId} (once)`);
  const { days, until } = past;
  const from = until - days * MILLISECONDS_A_DAY;
  let piece = '';
  let skipped = 0;
  // One piece is played in while the next is invented.
  let playing: Promise<unknown> = Promise.resolve();
  try {
    for (const { topic, envelope, at } of pastMessages(past)) {
      if (skipped < stored) {
        skipped += 1;
        continue;
      }
      piece += `${JSON.stringify({ topic, at: rfc3339Of(at), envelope })}\n`;
      if (piece.length < PIECE_CHARACTERS) continue;
      await playing;
      stop?.throwIfAborted();
      playing = played(plant, piece);
      piece = '';
      progress.at((at - from) / (until - from));
    }
    await playing;
    await played(plant, piece);
    progress.done();
  } catch (failure) {
    progress.broken();
    await playing.catch(() => undefined);
    throw failure;
  }
}

async function played(plant: Pick<PlantClient, 'call'>, piece: string): Promise<void> {
  const faults = await plant.call('importLines', piece);
  if (faults > 0) throw new Error(`${faults} lines of the invented past cannot be read`);
}
