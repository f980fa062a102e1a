// What the samples of raw windows take, in a sentence: how many are kept, how much they may take, and what keeps them.
import type { IntakeView } from '../../shared/views.ts';
import { count, whole } from '../wording/figures.ts';

const BYTES_A_MEGABYTE = 1e6;

/** Nothing where no raw window ever came. */
export function windowsRoomWords(room: IntakeView['windows']): string {
  if (room === undefined) return '';
  const { windows, bytes, bytesMax, pinned, waiting, skipped, isOver } = room;
  const parts = [
    `The samples of ${count(windows, 'raw window', 'raw windows')} are kept: ${megabytes(bytes)} of ${megabytes(bytesMax)}.`,
  ];
  if (pinned > 0) parts.push(`${count(pinned, 'stands', 'stand')} behind holds and go last.`);
  if (waiting > 0) parts.push(`${count(waiting, 'waits', 'wait')} for the analysis.`);
  if (skipped > 0) parts.push(`${count(skipped, 'was', 'were')} not analysed, because too many came at once.`);
  if (isOver) parts.push('Those behind open holds alone take more than they may: end holds, or give them more room.');
  return parts.join(' ');
}

function megabytes(bytes: number): string {
  return bytes > 0 && bytes < BYTES_A_MEGABYTE ? 'less than 1 MB' : `${whole(Math.round(bytes / BYTES_A_MEGABYTE))} MB`;
}
