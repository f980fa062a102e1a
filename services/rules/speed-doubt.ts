// Rule (b), of readings: a speed that contradicts the control is a matter of the sensor, and holds no assembly.
import type { EntryOf } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { ReadingFeatures } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import { rpmWords } from '../../shared/wording.ts';
import type { MachineFacts, SpeedDoubt, SpindleState } from './floor.ts';
import {
  CONTROL_HOLDS_MS,
  OVERRIDE_USUAL_MAX_PERCENT,
  OVERRIDE_USUAL_MIN_PERCENT,
  SOUND_READINGS,
  SPEED_CONTRADICTS_SHARE,
  SPEED_DOUBT_HOLDS_MS,
  SPEED_DOUBT_MS,
  SPEED_DOUBT_READINGS,
  SPEED_DOUBT_TOLD_MS,
} from './limits.ts';

type Summary = EntryOf<'summary'>;

/**
 * A reading's speed held against the control's; `untold` where the control says nothing that could be held against it. Slower than an
 * override is turned down says something of a sensor that keeps doing it, and too little to disbelieve its speed.
 */
export type SpeedHeld = 'agrees' | 'contradicts' | 'too-slow' | 'untold';

/**
 * The actual speed counts where it was told since the program was; otherwise the programmed one does, up to the override. Slower
 * than programmed contradicts nothing: it may stand, or be turned down.
 */
export function heldAgainst(machine: MachineFacts | undefined, { data, at }: Summary, measuredAt: Instant): SpeedHeld {
  if (machine === undefined) return 'untold';
  const { actualSpeedRpm, actualSince = 0, actualAt = 0, programmedSpeedRpm, programmedSince = 0 } = machine;
  const { speedRpm } = data;
  if (actualSpeedRpm !== undefined && actualAt >= programmedSince) {
    if (at - actualAt > CONTROL_HOLDS_MS || measuredAt < actualSince) return 'untold';
    return isApart(speedRpm, actualSpeedRpm) ? 'contradicts' : 'agrees';
  }
  if (programmedSpeedRpm === undefined || programmedSpeedRpm <= 0) return 'untold';
  if (at - machine.at > CONTROL_HOLDS_MS || measuredAt < programmedSince) return 'untold';
  if (!isApart(speedRpm, programmedSpeedRpm)) return 'agrees';
  const highestRpm = (programmedSpeedRpm * (machine.overridePercent ?? OVERRIDE_USUAL_MAX_PERCENT)) / 100;
  if (speedRpm > highestRpm && isApart(speedRpm, highestRpm)) return 'contradicts';
  const lowestRpm =
    (programmedSpeedRpm * Math.min(machine.overridePercent ?? Infinity, OVERRIDE_USUAL_MIN_PERCENT)) / 100;
  return speedRpm < lowestRpm && isApart(speedRpm, lowestRpm) ? 'too-slow' : 'untold';
}

const isApart = (speedRpm: number, saidRpm: number): boolean =>
  Math.abs(speedRpm - saidRpm) > SPEED_CONTRADICTS_SHARE * Math.max(speedRpm, saidRpm);

/** Whether the speed of a reading is not to be believed: it contradicts the control, or those before did for long enough. */
export function isSpeedDoubted(spindle: SpindleState, entry: Summary, measuredAt: Instant): boolean {
  const held = heldAgainst(spindle.machine, entry, measuredAt);
  if (held === 'agrees' || held === 'contradicts') return held === 'contradicts';
  return isStanding(spindle, entry) && isEstablished(spindle.live.speedDoubt, entry.at);
}

/** Not of another sensor, and not where the control fell silent: its word is too old then to be held against anything. */
function isStanding({ live, machine }: SpindleState, { device, at }: Summary): boolean {
  return live.heardFrom === device && machine !== undefined && at - machine.at <= SPEED_DOUBT_HOLDS_MS;
}

/** Whether its sensor has told other speeds than its control for long enough, and has not agreed since. */
export function hasDoubtedSpeed({ live: { lastReadingAt, speedDoubt } }: SpindleState): boolean {
  if (lastReadingAt === undefined || speedDoubt === undefined) return false;
  return isEstablished(speedDoubt, lastReadingAt) && lastReadingAt - speedDoubt.lastAt <= SPEED_DOUBT_HOLDS_MS;
}

const isEstablished = (doubt: SpeedDoubt | undefined, at: Instant): boolean =>
  doubt !== undefined &&
  doubt.readings >= SPEED_DOUBT_READINGS &&
  at - doubt.since >= SPEED_DOUBT_MS &&
  doubt.agreedInRow < SOUND_READINGS;

/** Of a turning spindle at a steady speed, with a sound signal: only then a speed says something of the sensor. */
function isTold({ notComparable }: ReadingFeatures): boolean {
  return !(
    notComparable === 'sensor-fault' ||
    notComparable === 'unsteady' ||
    notComparable === 'wrong-speed' ||
    notComparable === 'standstill' ||
    notComparable === 'late'
  );
}

/** What is to be remarked with this reading; undefined as a rule. The readings before it have been folded. */
export function speedDoubtRemark(
  spindle: SpindleState,
  features: ReadingFeatures,
  entry: Summary,
  measuredAt: Instant,
): string | undefined {
  const { machine, live } = spindle;
  const { speedDoubt: doubt } = live;
  if (doubt === undefined || machine === undefined || live.heardFrom !== entry.device) return undefined;
  if (doubt.agreedInRow >= SOUND_READINGS || entry.at - doubt.lastAt > SPEED_DOUBT_HOLDS_MS) return undefined;
  if (doubt.readings + 1 < SPEED_DOUBT_READINGS || entry.at - doubt.since < SPEED_DOUBT_MS) return undefined;
  if (doubt.toldAt !== undefined && entry.at - doubt.toldAt < SPEED_DOUBT_TOLD_MS) return undefined;
  if (!isTold(features) || heldAgainst(machine, entry, measuredAt) !== 'contradicts') return undefined;
  return say`${entry.device} tells ${rpmWords(entry.data.speedRpm)}, the control ${saidWords(machine)}, in ${doubt.readings + 1} readings: one of the two is wrong. Is it the sensor of this spindle? By the speed of its readings nothing is held until they agree`;
}

function saidWords({ actualSpeedRpm, actualAt = 0, programmedSpeedRpm, programmedSince = 0 }: MachineFacts): string {
  return actualSpeedRpm !== undefined && actualAt >= programmedSince
    ? rpmWords(actualSpeedRpm)
    : say`is programmed to ${rpmWords(programmedSpeedRpm ?? 0)}`;
}

/** Takes a reading into the doubt about its speed. */
export function foldSpeedDoubt(
  spindle: SpindleState,
  features: ReadingFeatures,
  entry: Summary,
  measuredAt: Instant,
): void {
  const { live, machine } = spindle;
  if (live.speedDoubt === undefined && machine === undefined) return;
  const isOther = live.heardFrom !== undefined && live.heardFrom !== entry.device;
  if (live.speedDoubt !== undefined && isOther) live.speedDoubt = undefined;
  if (!isTold(features)) return;
  const held = heldAgainst(machine, entry, measuredAt);
  const doubt = live.speedDoubt;
  if (held === 'agrees' && doubt !== undefined) doubt.agreedInRow += 1;
  if (held !== 'contradicts') return;
  // Agreed for long enough, or long ago: what contradicts now begins anew, but is not said anew on the same day.
  if (doubt === undefined || doubt.agreedInRow >= SOUND_READINGS || entry.at - doubt.lastAt > SPEED_DOUBT_HOLDS_MS) {
    const { at } = entry;
    live.speedDoubt = { since: at, readings: 1, lastAt: at, agreedInRow: 0, toldAt: doubt?.toldAt };
    return;
  }
  const isRemarked = speedDoubtRemark(spindle, features, entry, measuredAt) !== undefined;
  doubt.readings += 1;
  doubt.lastAt = entry.at;
  doubt.agreedInRow = 0;
  if (isRemarked) doubt.toldAt = entry.at;
}
