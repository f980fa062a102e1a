// A journal of readings of an invented plant, written with features as the rules make them, and the plain list to compare with.
import fc from 'fast-check';
import { openJournal, type Arrival, type Journal } from '../../../services/journal/index.ts';
import type { Entry } from '../../../shared/entries.ts';
import type { NotComparableReason, Outcome } from '../../../shared/outcomes.ts';

export const MORNING = Date.UTC(2026, 10, 24, 7);

export interface Made {
  readonly spindleId: string;
  /** Arrival after the one before, ms. */
  readonly afterMs: number;
  /** How long before its arrival it was measured. */
  readonly ageMs: number;
  readonly overallMmS: number;
  readonly synchronousMmS: number | undefined;
  readonly speedRpm: number;
  readonly expectedMmS: number | undefined;
  readonly why: NotComparableReason | undefined;
}

export const made: fc.Arbitrary<Made> = fc.record({
  spindleId: fc.constantFrom('S-1', 'S-2', 'S-3'),
  afterMs: fc.oneof(fc.integer({ min: 0, max: 5000 }), fc.integer({ min: 0, max: 5_000_000 })),
  ageMs: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 400_000 })),
  overallMmS: fc.double({ min: 0, max: 40, noNaN: true }),
  synchronousMmS: fc.option(fc.double({ min: 0, max: 20, noNaN: true }), { nil: undefined }),
  speedRpm: fc.integer({ min: 0, max: 24_000 }),
  expectedMmS: fc.option(fc.double({ min: 0.1, max: 5, noNaN: true }), { nil: undefined }),
  why: fc.option(fc.constantFrom('cutting', 'standstill', 'unsteady', 'cold', 'nothing-loaded'), { nil: undefined }),
});

export interface Known extends Made {
  readonly at: number;
}

/** Appends the readings, each batch one commit; gives back what the trends should know of them. */
export async function write(journal: Journal, batch: readonly Made[], from: number): Promise<readonly Known[]> {
  let arrival = from;
  const arrivals: Arrival[] = [];
  const known: Known[] = [];
  for (const one of batch) {
    arrival += one.afterMs;
    const time = arrival - one.ageMs;
    known.push({ ...one, at: time });
    const { spindleId, overallMmS, speedRpm, synchronousMmS } = one;
    const data = { spindleId, overallMmS, speedRpm, ...(synchronousMmS === undefined ? {} : { synchronousMmS }) };
    arrivals.push({
      draft: {
        kind: 'summary',
        at: arrival,
        device: `sensor-${spindleId}`,
        id: `r${arrival}-${known.length}`,
        time,
        data,
      },
    });
  }
  await journal.append(arrivals, (entries) => entries.map((entry, index) => featuresOf(entry, batch[index])));
  return known;
}

function featuresOf(entry: Entry, one: Made | undefined): Outcome {
  const { why, expectedMmS } = one ?? {};
  return {
    kind: 'reading-features',
    cause: entry.position,
    features: {
      speedBin: 1,
      loadOrdinal: 1,
      comparable: why === undefined,
      ...(why === undefined ? {} : { notComparable: why }),
      ...(expectedMmS === undefined ? {} : { expectedMmS }),
    },
  };
}

export function newJournal(): Promise<Journal> {
  return openJournal({ store: 'memory' });
}
