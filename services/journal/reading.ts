// What may come often, as the journal keeps it: quantities in single precision, the id made from boot and sequence.
import type { Draft, EntryOf, Position } from '../../shared/entries.ts';
import type { MachineState, Summary } from '../../shared/messages/index.ts';
import type { Instant } from '../../shared/time.ts';

export type ReadingKind = 'summary' | 'machine';
export type Reading = EntryOf<ReadingKind>;
export type ReadingDraft = Extract<Draft, { kind: ReadingKind }>;

type ReadingFields = { -readonly [F in keyof Reading]: Reading[F] };
type Quantity = number | undefined;

export function isReading<T extends { readonly kind: string }>(entry: T): entry is Extract<T, { kind: ReadingKind }> {
  return entry.kind === 'summary' || entry.kind === 'machine';
}

/** All that stands around the data of a reading. */
export interface Heading {
  position: Position;
  at: Instant;
  device: string;
  id: string;
  time: Instant | undefined;
  bootId: string | undefined;
  sequence: number | undefined;
}

/** The one place that makes a reading, live and in replay, so that even the order of its fields is the same. */
export function readingOf<K extends ReadingKind>(kind: K, heading: Heading, data: EntryOf<K>['data']): EntryOf<K> {
  const { position, at, device, id, time, bootId, sequence } = heading;
  if (time !== undefined && bootId !== undefined && sequence !== undefined) {
    // What nearly all of them have, made in one step.
    const whole: ReadingFields = { position, at, kind, device, id, data, time, bootId, sequence };
    return whole as EntryOf<K>;
  }
  const entry: ReadingFields = { position, at, kind, device, id, data };
  if (time !== undefined) entry.time = time;
  if (bootId !== undefined) entry.bootId = bootId;
  if (sequence !== undefined) entry.sequence = sequence;
  return entry as EntryOf<K>;
}

/** A reading's id is not kept where boot and sequence say as much. */
export function readingId(bootId: string | undefined, sequence: number | undefined, id: string): string {
  return bootId === undefined || sequence === undefined ? id : `${bootId}-${sequence}`;
}

/** How often each is there decides nothing; the order is the order of the columns and never changes. */
export const SUMMARY_QUANTITIES: readonly ((data: Summary) => Quantity)[] = [
  (data) => data.speedRpm,
  (data) => data.overallMmS,
  (data) => data.synchronousMmS,
  (data) => data.synchronousPhaseDeg,
  (data) => data.secondOrderMmS,
  (data) => data.accelerationRmsMS2,
  (data) => data.accelerationPeakMS2,
  (data) => data.kurtosis,
  (data) => data.envelopeMS2,
];

export const MACHINE_QUANTITIES: readonly ((data: MachineState) => Quantity)[] = [
  (data) => data.programmedSpeedRpm,
  (data) => data.actualSpeedRpm,
  (data) => data.overridePercent,
];

/** Fields that a summary may have beside its two that it must have. */
export interface SummaryFields {
  spindleId: string | undefined;
  speedRpm: number;
  overallMmS: number;
  synchronousMmS: Quantity;
  synchronousPhaseDeg: Quantity;
  secondOrderMmS: Quantity;
  accelerationRmsMS2: Quantity;
  accelerationPeakMS2: Quantity;
  kurtosis: Quantity;
  envelopeMS2: Quantity;
}

export function summaryOf(fields: SummaryFields, flags: number): Summary {
  const data: Summary = { speedRpm: fields.speedRpm, overallMmS: fields.overallMmS };
  if (fields.spindleId !== undefined) data.spindleId = fields.spindleId;
  if (fields.synchronousMmS !== undefined) data.synchronousMmS = fields.synchronousMmS;
  if (fields.synchronousPhaseDeg !== undefined) data.synchronousPhaseDeg = fields.synchronousPhaseDeg;
  if (fields.secondOrderMmS !== undefined) data.secondOrderMmS = fields.secondOrderMmS;
  if (fields.accelerationRmsMS2 !== undefined) data.accelerationRmsMS2 = fields.accelerationRmsMS2;
  if (fields.accelerationPeakMS2 !== undefined) data.accelerationPeakMS2 = fields.accelerationPeakMS2;
  if (fields.kurtosis !== undefined) data.kurtosis = fields.kurtosis;
  if (fields.envelopeMS2 !== undefined) data.envelopeMS2 = fields.envelopeMS2;
  if (flags !== 0) {
    const cutting = flags & 3;
    const steady = (flags >> 2) & 3;
    const fault = FAULTS[(flags >> 4) & 7];
    if (cutting !== 0) data.cutting = cutting === 2;
    if (steady !== 0) data.steady = steady === 2;
    if (fault !== undefined) data.fault = fault;
  }
  return data;
}

export function summaryFlags(data: Summary): number {
  return (
    tristate(data.cutting) |
    (tristate(data.steady) << 2) |
    (data.fault === undefined ? 0 : FAULT_CODES[data.fault] << 4)
  );
}

export function machineOf(
  spindleId: string,
  programmedSpeedRpm: Quantity,
  actualSpeedRpm: Quantity,
  overridePercent: Quantity,
  flags: number,
): MachineState {
  const data: MachineState = { spindleId };
  if (programmedSpeedRpm !== undefined) data.programmedSpeedRpm = programmedSpeedRpm;
  if (actualSpeedRpm !== undefined) data.actualSpeedRpm = actualSpeedRpm;
  if (overridePercent !== undefined) data.overridePercent = overridePercent;
  if (flags !== 0) data.cutting = flags === 2;
  return data;
}

export function machineFlags(data: MachineState): number {
  return tristate(data.cutting);
}

/** 0 not said, 1 no, 2 yes. */
function tristate(said: boolean | undefined): number {
  return said === undefined ? 0 : said ? 2 : 1;
}

/** Codes in stored blocks: a new fault takes the next number, none is ever used again. */
const FAULT_CODES: Readonly<Record<NonNullable<Summary['fault']>, number>> = {
  clipped: 1,
  flat: 2,
  dropout: 3,
  bias: 4,
  implausible: 5,
  'speed-unsteady': 6,
  'wrong-speed': 7,
};

const FAULTS: (NonNullable<Summary['fault']> | undefined)[] = [];
for (const [fault, code] of Object.entries(FAULT_CODES)) FAULTS[code] = fault as NonNullable<Summary['fault']>;
