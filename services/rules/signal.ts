// Whether a reading can be true at all: what the sensor says of itself, and combinations that no spindle makes.
import type { Summary } from '../../shared/messages/index.ts';
import type { SubjectState } from '../../shared/outcomes.ts';
import { ODD_KINDS, type MachineFacts, type OddKind, type SpindleLive, type SpindleState } from './floor.ts';
import {
  ODD_READINGS,
  SOUND_READINGS,
  STANDSTILL_VIBRATION_MMS,
  STUCK_READINGS,
  STUCK_READINGS_OVERALL_ONLY,
  STUCK_READINGS_WITH_ACCELERATION,
  SYNCHRONOUS_FLOOR_MMS,
  SYNCHRONOUS_OVER_OVERALL,
} from './limits.ts';

/** A fault of the window, not of the sensor: the spindle ran up or down meanwhile. */
const UNSTEADY = 'speed-unsteady';

export interface Oddity {
  readonly kind: OddKind;
  readonly why: string;
}

/** What is odd about a reading; undefined where nothing is. */
export function oddityOf(data: Summary): Oddity | undefined {
  const { fault, speedRpm, overallMmS, synchronousMmS } = data;
  if (fault !== undefined && fault !== UNSTEADY)
    return { kind: 'told', why: `the sensor says of its signal: ${fault}` };
  if (synchronousMmS !== undefined && synchronousMmS > overallMmS * SYNCHRONOUS_OVER_OVERALL + SYNCHRONOUS_FLOOR_MMS)
    return { kind: 'part-over-whole', why: 'the 1× part is more than the whole' };
  if (speedRpm < 1)
    return overallMmS > STANDSTILL_VIBRATION_MMS && isSteady(data)
      ? { kind: 'standing', why: 'vibration at standstill' }
      : undefined;
  return overallMmS === 0 ? { kind: 'turning', why: 'no vibration at all while turning' } : undefined;
}

const isSteady = ({ steady, fault }: Summary): boolean => steady !== false && fault !== UNSTEADY;

/** Whether a reading of a sensor with this fault would look odd: only such a reading says that it is sound. */
function wouldShow(kind: OddKind, data: Summary, machine: MachineFacts | undefined): boolean {
  const { speedRpm, synchronousMmS = 0, cutting } = data;
  switch (kind) {
    case 'told':
      return true;
    case 'part-over-whole':
      // In the cut the teeth make most of the whole, and a whole that is told too low is still more than its part.
      return synchronousMmS > SYNCHRONOUS_FLOOR_MMS && !(cutting ?? machine?.cutting ?? false);
    case 'standing':
      return speedRpm < 1 && isSteady(data);
    case 'turning':
      return speedRpm >= 1;
  }
}

/** Against the last reading in motion: standing, a sensor tells the same honestly, or nothing of what it tells in motion. */
function isSame({ inMotion }: SpindleLive, data: Summary): boolean {
  return (
    inMotion.overallMmS === data.overallMmS &&
    inMotion.synchronousMmS === data.synchronousMmS &&
    inMotion.accelerationRmsMS2 === data.accelerationRmsMS2
  );
}

export interface SignalCounts {
  readonly odd: Oddity | undefined;
  /** Of its kind, over the readings that could have shown it. */
  readonly oddInRow: number;
  readonly soundInRow: number;
  readonly sameInRow: number;
}

/** How often in a row readings were odd, sound or the same to the last digit, this one counted. */
export function signalCounts({ live, machine }: SpindleState, data: Summary): SignalCounts {
  const odd = oddityOf(data);
  const sameInRow = data.speedRpm < 1 ? live.sameInRow : isSame(live, data) ? live.sameInRow + 1 : 0;
  if (odd !== undefined) return { odd, oddInRow: live.oddInRow[odd.kind] + 1, soundInRow: 0, sameInRow };
  const shows = live.lastOdd === undefined || wouldShow(live.lastOdd, data, machine);
  return { odd, oddInRow: 0, soundInRow: live.soundInRow + (shows ? 1 : 0), sameInRow };
}

/** Takes a reading into the counts. */
export function foldSignal(spindle: SpindleState, data: Summary): void {
  const { live, machine } = spindle;
  const { odd, oddInRow, soundInRow, sameInRow } = signalCounts(spindle, data);
  for (const kind of ODD_KINDS) {
    if (kind === odd?.kind) live.oddInRow[kind] = oddInRow;
    else if (live.oddInRow[kind] > 0 && wouldShow(kind, data, machine)) live.oddInRow[kind] = 0;
  }
  if (odd !== undefined) live.lastOdd = odd.kind;
  live.soundInRow = soundInRow;
  live.sameInRow = sameInRow;
  if (data.speedRpm < 1) return;
  live.inMotion.overallMmS = data.overallMmS;
  live.inMotion.synchronousMmS = data.synchronousMmS;
  live.inMotion.accelerationRmsMS2 = data.accelerationRmsMS2;
}

/** The more a sensor tells, the less likely it is that an honest one tells all of it again. */
function stuckAfter({ synchronousMmS, accelerationRmsMS2 = 0 }: Summary): number {
  if (synchronousMmS === undefined) return STUCK_READINGS_OVERALL_ONLY;
  return accelerationRmsMS2 > 0 ? STUCK_READINGS_WITH_ACCELERATION : STUCK_READINGS;
}

export interface StateOf {
  readonly state: SubjectState;
  readonly why: string;
}

/** The state that a reading puts its spindle in; undefined where it stays as it is. Never a hold, never a release. */
export function stateAfter(spindle: SpindleState, data: Summary, counts: SignalCounts): StateOf | undefined {
  const { state } = spindle;
  if (counts.odd !== undefined) {
    const { kind, why } = counts.odd;
    if (state === 'implausible' || (kind !== 'told' && counts.oddInRow < ODD_READINGS)) return undefined;
    return { state: 'implausible', why };
  }
  if (data.speedRpm >= 1 && counts.sameInRow + 1 >= stuckAfter(data)) {
    const why = `the same numbers to the last digit ${counts.sameInRow + 1} times in a row`;
    return state === 'stuck' || state === 'implausible' ? undefined : { state: 'stuck', why };
  }
  switch (state) {
    case 'reporting':
      return undefined;
    case 'implausible':
      return counts.soundInRow >= SOUND_READINGS && ODD_KINDS.every((kind) => isSoundAgain(spindle, kind, data))
        ? { state: 'reporting', why: 'its readings are sound again' }
        : undefined;
    case 'stuck':
      return counts.sameInRow === 0 ? { state: 'reporting', why: 'its readings change again' } : undefined;
    case 'silent':
    case 'offline':
      return { state: 'reporting', why: 'readings come again' };
    case 'mistimed':
      return { state: 'reporting', why: 'its readings tell of now again' };
  }
}

/** An oddity that was certain is past only when a reading could have shown it and did not. */
function isSoundAgain({ live, machine }: SpindleState, kind: OddKind, data: Summary): boolean {
  return live.oddInRow[kind] < ODD_READINGS || wouldShow(kind, data, machine);
}
