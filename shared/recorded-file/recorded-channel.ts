// What is read out of a recorded file: its channels with what is known of their unit, or faults in words.
import { retell, say } from '../language/index.ts';
import type { RecordedChannel } from '../vibration/index.ts';

/** Units that a person may tell for columns that name none. */
export const COLUMN_UNITS = ['g', 'mg', 'm/s2', 'mm/s2', 'mV', 'V'] as const;
export type ColumnUnit = (typeof COLUMN_UNITS)[number];

export const DECIMAL_MARKS = ['point', 'comma'] as const;
export type DecimalMark = (typeof DECIMAL_MARKS)[number];

/** What a person tells of a file beside what stands in it. */
export interface ReadingChoices {
  /** Of columns of acceleration; goes before what the head of the table says. */
  readonly unit?: ColumnUnit;
  /** Of the sensor, for columns in volts: mV per g. */
  readonly sensitivityMvPerG?: number;
  /** What the full scale of a WAV file stands for, m/s². */
  readonly fullScaleMS2?: number;
  /** Goes before a time column. */
  readonly sampleRateHz?: number;
  /** Where a table can be read in two ways. */
  readonly decimalMark?: DecimalMark;
}

export interface FileChannel extends RecordedChannel {
  /** Whether the values are m/s². Where not, they are relative: no level of them can be named. */
  readonly scaled: boolean;
  /** Where the unit is known from, as a part of a sentence. */
  readonly unitWords: string;
  /** Ends of the converter's range and one count of it, where the file has them. */
  readonly fullScaleMS2?: number;
  readonly stepMS2?: number;
}

export interface RecordingFault {
  /** Counted from 1; absent where it is about the whole file. */
  readonly line?: number;
  readonly words: string;
}

export type RecordedFile =
  | {
      readonly kind: 'read';
      readonly format: 'table' | 'WAV file';
      readonly channels: readonly FileChannel[];
      /** What whoever looks at the numbers has to know of how the file was read. */
      readonly remarks: readonly string[];
    }
  | { readonly kind: 'refused'; readonly faults: readonly RecordingFault[]; readonly faultsMore: number };

export function refused(words: string, line?: number): RecordedFile {
  return { kind: 'refused', faults: [line === undefined ? { words } : { line, words }], faultsMore: 0 };
}

/** "line 12: …" or the words alone, in the language of whoever reads: what reads a file knows none. */
export function faultWords({ line, words }: RecordingFault): string {
  return line === undefined ? retell(words) : say`line ${line}: ${retell(words)}`;
}
