// The face of recorded files: what a hand-held recorder exports, as channels of acceleration, and what each of them says.
export { readRecordedFile, tooLargeWords } from './read-recorded-file.ts';
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
export { BEARING_LINE_FORM, bearingIn } from './told-bearing.ts';
export { STANDARD_GRAVITY_MS2 } from './column-units.ts';
export { CHANNELS_MAX, FILE_BYTES_MAX, SAMPLES_MAX } from './limits.ts';
export {
  analyseChannel,
  windowOf,
  type AnalysedStretch,
  type ChannelAnalysis,
  type ChannelQuestion,
  type Level,
  type ToldBearing,
  type ToldHealth,
} from './analyse-channel.ts';
export {
  bearingsWords,
  bearingSentence,
  cannotTell,
  channelSentence,
  healthSentence,
  speedWords,
} from './channel-words.ts';
export { WHOLE_UP_TO_S, WINDOW_S } from './channel-windows.ts';
