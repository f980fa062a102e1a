// Bytes of a recorded file into its channels, whatever form it has; what cannot be read is said in words, never thrown.
import { say } from '../language/index.ts';
import { CHANNELS_MAX, FILE_BYTES_MAX, VALUE_MAX } from './limits.ts';
import { refused, type ReadingChoices, type RecordedFile } from './recorded-channel.ts';
import { tableRecording } from './table-recording.ts';
import { isWaveFile, waveRecording } from './wave-file.ts';

const MIB = 1024 * 1024;

/** The form is told from the bytes, not from the file's name. */
export function readRecordedFile(bytes: Uint8Array, choices: ReadingChoices = {}): RecordedFile {
  const tooLarge = tooLargeWords(bytes.length);
  if (tooLarge !== undefined) return refused(tooLarge);
  if (bytes.length === 0) return refused(say`It is empty. Expected a table as text (CSV), or a WAV file.`);
  return plausible(isWaveFile(bytes) ? waveRecording(bytes, choices) : tableRecording(bytes, choices));
}

function plausible(file: RecordedFile): RecordedFile {
  if (file.kind === 'refused') return file;
  const beyond = file.channels.find(({ accelerationMS2 }) =>
    accelerationMS2.some((value) => Math.abs(value) > VALUE_MAX),
  );
  if (beyond === undefined) return file;
  return refused(
    say`${beyond.name} holds values beyond ${VALUE_MAX}: that is no vibration. Is its unit the one that was told?`,
  );
}

/** Why a file is refused before it is read; undefined where its size is no reason. */
export function tooLargeWords(bytes: number): string | undefined {
  if (bytes <= FILE_BYTES_MAX) return undefined;
  return say`It has ${Math.ceil(bytes / MIB)} MiB; expected at most ${FILE_BYTES_MAX / MIB} MiB in up to ${CHANNELS_MAX} channels. Cut it into parts.`;
}
