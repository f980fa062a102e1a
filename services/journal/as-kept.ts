// An entry as the journal keeps it, before the rules see it: live and in replay they decide on the same bits.
import type { Draft, Entry, Position } from '../../shared/entries.ts';
import type { MachineState, Summary } from '../../shared/messages/index.ts';
import type { Instant } from '../../shared/time.ts';
import { isReading, machineFlags, machineOf, readingId, readingOf, summaryFlags, summaryOf } from './reading.ts';
import type { Heading, Reading, ReadingDraft } from './reading.ts';

/**
 * The draft as `append` hands it to the rules: quantities of readings rounded to single precision, a reading's id made of
 * boot and sequence where it has both, everything else as JSON gives it back. Doing it twice changes nothing.
 */
export function asKept(draft: Draft): Draft {
  const { position: _position, ...kept } = entryAsKept(draft, 0, draft.at);
  return kept;
}

/** The same with its place in the journal. */
export function entryAsKept(draft: Draft, position: Position, at: Instant): Entry {
  if (isReading(draft)) return readingAsKept(draft, position, at);
  const { at: _at, ...fields } = draft;
  return placed(JSON.parse(JSON.stringify(fields)) as Unplaced, position, at);
}

/** Entries that are not readings are kept as the JSON of all but their place. */
export type Unplaced = Draft extends infer D ? (D extends Draft ? Omit<D, 'at'> : never) : never;

export function placed(fields: Unplaced, position: Position, at: Instant): Entry {
  return { ...fields, position, at: at + 0 };
}

function readingAsKept(draft: ReadingDraft, position: Position, at: Instant): Reading {
  const { bootId, sequence } = draft;
  const heading: Heading = {
    position,
    at: at + 0,
    device: draft.device,
    id: readingId(bootId, sequence, draft.id),
    // Adding zero takes the sign from a negative zero, which integers are kept without.
    time: draft.time === undefined ? undefined : draft.time + 0,
    bootId,
    sequence: sequence === undefined ? undefined : sequence + 0,
  };
  return draft.kind === 'summary'
    ? readingOf('summary', heading, summaryAsKept(draft.data))
    : readingOf('machine', heading, machineAsKept(draft.data));
}

function summaryAsKept(data: Summary): Summary {
  const { speedRpm, overallMmS } = data;
  return summaryOf(
    {
      spindleId: data.spindleId,
      speedRpm: Math.fround(speedRpm),
      overallMmS: Math.fround(overallMmS),
      synchronousMmS: single(data.synchronousMmS),
      synchronousPhaseDeg: single(data.synchronousPhaseDeg),
      secondOrderMmS: single(data.secondOrderMmS),
      accelerationRmsMS2: single(data.accelerationRmsMS2),
      accelerationPeakMS2: single(data.accelerationPeakMS2),
      kurtosis: single(data.kurtosis),
      envelopeMS2: single(data.envelopeMS2),
    },
    summaryFlags(data),
  );
}

function machineAsKept(data: MachineState): MachineState {
  return machineOf(
    data.spindleId,
    single(data.programmedSpeedRpm),
    single(data.actualSpeedRpm),
    single(data.overridePercent),
    machineFlags(data),
  );
}

function single(value: number | undefined): number | undefined {
  return value === undefined ? undefined : Math.fround(value);
}
