// The face of reading recorded files: what a hand-held recorder exports, as channels of acceleration.
export { readRecordedFile } from './read-recorded-file.ts';
export {
  COLUMN_UNITS,
  DECIMAL_MARKS,
  faultWords,
  type ColumnUnit,
  type DecimalMark,
  type FileChannel,
  type ReadingChoices,
  type RecordedFile,
  type RecordingFault,
} from './recorded-channel.ts';
export { STANDARD_GRAVITY_MS2 } from './column-units.ts';
export { CHANNELS_MAX, FILE_BYTES_MAX, SAMPLES_MAX } from './limits.ts';
