// A year of one spindle, a reading a minute, laid straight into the trends of a data directory: sent over MQTT it would take hours.
import { join } from 'node:path';
import type { EntryOf, Position } from '../../../shared/entries.ts';
import { MILLISECONDS_A_MINUTE, type Instant } from '../../../shared/time.ts';
import { openReader, type Stretch } from '../../../services/journal/index.ts';
import { Trends, type JournalFollowed } from '../../../services/trends/index.ts';
import { sensorOf, spindleOf } from '../plant/bench-plant.ts';

export const MINUTES_A_YEAR = 525_600;
const STRETCH = 1440;
/** Once in so many minutes something is far higher than the rest: what thinning must not lose. */
const PEAK_EVERY = 9973;
const PEAK_MM_S = 2.2;
export const PEAKS_A_YEAR = Math.floor(MINUTES_A_YEAR / PEAK_EVERY);
export const ABOVE_ALL_BUT_PEAKS_MM_S = 2;

/** Before a service has opened the directory; the last of the readings is of now. */
export async function layYearOfMinutes(dataDir: string, spindle: number): Promise<void> {
  const journal = await openReader({ store: 'sqlite', file: join(dataDir, 'journal.sqlite') });
  const { position } = await journal.head();
  // The trends take this for their journal: its own entries, then the year, all of it read when they are opened again.
  const withYear: JournalFollowed = {
    head: () => journal.head(),
    wavesOf: (asked) => journal.wavesOf(asked),
    read: (from, to) => (to === 1 ? journal.read(from, to) : both(journal.read(from, to), yearOf(spindle, position))),
  };
  const trends = await Trends.open(withYear, join(dataDir, 'trends.sqlite'));
  await trends.catchUp();
  await trends.close();
  await journal.close();
}

async function* both(first: AsyncIterable<Stretch>, then: Iterable<Stretch>): AsyncGenerator<Stretch> {
  yield* first;
  yield* then;
}

function* yearOf(spindle: number, position: Position): Generator<Stretch> {
  const end = Math.floor(Date.now() / MILLISECONDS_A_MINUTE) * MILLISECONDS_A_MINUTE;
  for (let minute = MINUTES_A_YEAR; minute > 0; minute -= STRETCH) {
    const entries = Array.from({ length: Math.min(STRETCH, minute) }, (_, index) =>
      readingAt(spindle, { position, at: end - (minute - index) * MILLISECONDS_A_MINUTE, minute: minute - index }),
    );
    yield { entries, outcomes: [] };
  }
}

interface Minute {
  readonly position: Position;
  readonly at: Instant;
  readonly minute: number;
}

function readingAt(spindle: number, { position, at, minute }: Minute): EntryOf<'summary'> {
  const swing = 0.1 * Math.sin(minute / 700) + 0.05 * Math.sin(minute / 11);
  const synchronousMmS = minute % PEAK_EVERY === 0 ? PEAK_MM_S : 0.5 + swing;
  return {
    kind: 'summary',
    position,
    at,
    device: sensorOf(spindle),
    id: `year-${minute}`,
    data: {
      spindleId: spindleOf(spindle),
      speedRpm: 18_000,
      overallMmS: synchronousMmS * 1.6,
      synchronousMmS,
      cutting: false,
      steady: true,
    },
  };
}
