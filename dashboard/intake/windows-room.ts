// What the samples of raw windows take, in a sentence: how many are kept, how much they may take, and what keeps them.
import { say, sayCount } from '../../shared/language/index.ts';
import type { IntakeView } from '../../shared/views.ts';
import { count, whole } from '../wording/figures.ts';

const BYTES_A_MEGABYTE = 1e6;

/** Nothing where no raw window ever came. */
export function windowsRoomWords(room: IntakeView['windows']): string {
  if (room === undefined) return '';
  const { windows, bytes, bytesMax, pinned, waiting, skipped, isOver } = room;
  const parts = [
    say`The samples of ${count(windows, 'raw window', 'raw windows')} are kept: ${megabytes(bytes)} of ${megabytes(bytesMax)}.`,
  ];
  if (pinned > 0)
    parts.push(
      sayCount(pinned, '{0} stands behind holds and go last.', '{0} stand behind holds and go last.', whole(pinned)),
    );
  if (waiting > 0)
    parts.push(sayCount(waiting, '{0} waits for the analysis.', '{0} wait for the analysis.', whole(waiting)));
  if (skipped > 0) parts.push(skippedWords(skipped));
  if (isOver)
    parts.push(say`Those behind open holds alone take more than they may: end holds, or give them more room.`);
  return parts.join(' ');
}

function skippedWords(skipped: number): string {
  return sayCount(
    skipped,
    '{0} was not analysed, because too many came at once.',
    '{0} were not analysed, because too many came at once.',
    whole(skipped),
  );
}

function megabytes(bytes: number): string {
  return bytes > 0 && bytes < BYTES_A_MEGABYTE
    ? say`less than 1 MB`
    : say`${whole(Math.round(bytes / BYTES_A_MEGABYTE))} MB`;
}
