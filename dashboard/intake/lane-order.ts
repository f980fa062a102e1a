// What is the matter with a device's lane, in words, and in which order lanes stand. Pure.
import { say } from '../../shared/language/index.ts';
import type { DeviceLane, Standing } from '../../shared/views.ts';
import { asCounted } from '../floor/floor-order.ts';
import { MILLISECONDS_A_SECOND } from '../time-spans.ts';
import { count } from '../wording/figures.ts';
import { duration } from '../wording/instants.ts';
import { SUBJECT_STATE_WORDS } from '../wording/standing-words.ts';

/** A clock further off than this is worth a word: a result's time would be read wrongly. */
export const CLOCK_OFF_MS = 5 * MILLISECONDS_A_SECOND;

export interface LaneMatter {
  readonly standing: Standing;
  readonly words: readonly string[];
}

export function matterOf(lane: DeviceLane): LaneMatter {
  const silent = lane.state === 'reporting' ? [] : [SUBJECT_STATE_WORDS[lane.state]];
  const away = lane.connected || lane.state !== 'reporting' ? [] : [say`not connected`];
  const late = [
    ...(lane.rejected > 0 ? [say`${count(lane.rejected, 'message', 'messages')} not read`] : []),
    ...gapWords(lane),
    ...clockMatter(lane),
  ];
  if (silent.length + away.length > 0) return { standing: 'no-data', words: [...silent, ...away, ...late] };
  return late.length > 0 ? { standing: 'watch', words: late } : { standing: 'in-family', words: [] };
}

/** A message that was refused leaves its number missing as well: which of the two it was is not known. */
function gapWords({ sequenceGaps, rejected }: DeviceLane): string[] {
  if (sequenceGaps === 0) return [];
  if (rejected === 0) return [count(sequenceGaps, 'gap', 'gaps')];
  return [
    sequenceGaps === 1
      ? say`1 number missing, which may have been refused`
      : say`${count(sequenceGaps, 'number', 'numbers')} missing, of which some may have been refused`,
  ];
}

function clockMatter(lane: DeviceLane): string[] {
  if (lane.clockNotBelieved === true) return [say`time not believed: is the clock set?`];
  return clockIsOff(lane) ? [clockWords(lane.clockOffsetMs ?? 0)] : [];
}

function clockIsOff(lane: DeviceLane): boolean {
  return lane.clockOffsetMs !== undefined && Math.abs(lane.clockOffsetMs) > CLOCK_OFF_MS;
}

export function clockWords(offsetMs: number): string {
  const size = Math.abs(offsetMs);
  if (size < MILLISECONDS_A_SECOND) return say`clock right`;
  return offsetMs > 0 ? say`clock ${duration(size)} fast` : say`clock ${duration(size)} slow`;
}

export const KIND_WORDS: Readonly<Record<NonNullable<DeviceLane['kind']>, string>> = {
  bench: say`bench`,
  sensor: say`sensor`,
  machine: say`machine`,
  reader: say`reader`,
};

/** Benches, machines, sensors, readers; then as people count. Places do not change with what is the matter. */
const KIND_ORDER = ['bench', 'machine', 'sensor', 'reader'];

export function inLaneOrder(lanes: readonly DeviceLane[]): DeviceLane[] {
  const place = (lane: DeviceLane): number => {
    const at = KIND_ORDER.indexOf(lane.kind ?? '');
    return at === -1 ? KIND_ORDER.length : at;
  };
  return [...lanes].sort((a, b) => place(a) - place(b) || asCounted(a.device, b.device));
}

const EDGE_MS = 3_600_000;

/** Where a clock's offset stands on a strip from an hour slow to an hour fast: near zero a second still shows. */
export function offsetShare(offsetMs: number): number {
  const logged =
    Math.log1p(Math.min(Math.abs(offsetMs), EDGE_MS) / MILLISECONDS_A_SECOND) /
    Math.log1p(EDGE_MS / MILLISECONDS_A_SECOND);
  return 0.5 + (Math.sign(offsetMs) * logged) / 2;
}
