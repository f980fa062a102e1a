// Whether a reading can be true at all: what the sensor says of itself, and combinations that no spindle makes.
import type { Summary } from '../../shared/messages/index.ts';
import type { SubjectState } from '../../shared/outcomes.ts';
import type { SpindleLive, SpindleState } from './floor.ts';
import {
  ODD_READINGS,
  SOUND_READINGS,
  STANDSTILL_VIBRATION_MMS,
  STUCK_READINGS,
  STUCK_READINGS_OVERALL_ONLY,
  SYNCHRONOUS_FLOOR_MMS,
  SYNCHRONOUS_OVER_OVERALL,
} from './limits.ts';

/** A fault of the window, not of the sensor: the spindle ran up or down meanwhile. */
const UNSTEADY = 'speed-unsteady';

/** What is odd about a reading, in words; undefined where nothing is. */
export function oddityOf(data: Summary): string | undefined {
  const { fault, speedRpm, overallMmS, synchronousMmS } = data;
  if (fault !== undefined && fault !== UNSTEADY) return `the sensor says of its signal: ${fault}`;
  if (synchronousMmS !== undefined && synchronousMmS > overallMmS * SYNCHRONOUS_OVER_OVERALL + SYNCHRONOUS_FLOOR_MMS)
    return 'the 1× part is more than the whole';
  if (speedRpm < 1) return overallMmS > STANDSTILL_VIBRATION_MMS ? 'vibration at standstill' : undefined;
  return overallMmS === 0 ? 'no vibration at all while turning' : undefined;
}

function isSame(live: SpindleLive, data: Summary): boolean {
  return (
    live.lastReadingAt !== undefined &&
    data.speedRpm >= 1 &&
    live.overallMmS === data.overallMmS &&
    live.synchronousMmS === data.synchronousMmS &&
    live.accelerationRmsMS2 === data.accelerationRmsMS2
  );
}

export interface SignalCounts {
  readonly odd: string | undefined;
  readonly oddInRow: number;
  readonly soundInRow: number;
  readonly sameInRow: number;
}

/** How often in a row readings were odd, sound or the same to the last digit, this one counted. */
export function signalCounts(live: SpindleLive, data: Summary): SignalCounts {
  const odd = oddityOf(data);
  return {
    odd,
    oddInRow: odd === undefined ? 0 : live.oddInRow + 1,
    soundInRow: odd === undefined ? live.soundInRow + 1 : 0,
    sameInRow: isSame(live, data) ? live.sameInRow + 1 : 0,
  };
}

export interface StateOf {
  readonly state: SubjectState;
  readonly why: string;
}

/** The state that a reading puts its spindle in; undefined where it stays as it is. Never a hold, never a release. */
export function stateAfter(spindle: SpindleState, data: Summary, counts: SignalCounts): StateOf | undefined {
  const { state } = spindle;
  const stuckAfter = data.synchronousMmS === undefined ? STUCK_READINGS_OVERALL_ONLY : STUCK_READINGS;
  if (counts.odd !== undefined) {
    const toldByItself = data.fault !== undefined;
    if (state === 'implausible' || (!toldByItself && counts.oddInRow < ODD_READINGS)) return undefined;
    return { state: 'implausible', why: counts.odd };
  }
  if (counts.sameInRow + 1 >= stuckAfter) {
    const why = `the same numbers to the last digit ${counts.sameInRow + 1} times in a row`;
    return state === 'stuck' || state === 'implausible' ? undefined : { state: 'stuck', why };
  }
  switch (state) {
    case 'reporting':
      return undefined;
    case 'implausible':
      return counts.soundInRow >= SOUND_READINGS
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
