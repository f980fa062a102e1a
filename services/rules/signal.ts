// Whether a reading can be true at all: what the sensor says of itself, and combinations that no spindle makes.
import { say } from '../../shared/language/index.ts';
import type { Summary } from '../../shared/messages/index.ts';
import type { SubjectState } from '../../shared/outcomes.ts';
import { MADE_OF_WAVE } from '../../shared/recording.ts';
import { ODD_KINDS, type OddKind, type SpindleLive, type SpindleState } from './floor.ts';
import {
  BAND_EDGE_CLEAR,
  HOUSING_MAX_MMS,
  ODD_READINGS,
  SOUND_READINGS,
  STANDSTILL_VIBRATION_MMS,
  STUCK_READINGS,
  STUCK_READINGS_OVERALL_ONLY,
  STUCK_READINGS_WITH_ACCELERATION,
  SYNCHRONOUS_FLOOR_MMS,
  SYNCHRONOUS_OVER_OVERALL,
  VELOCITY_BAND_HZ,
} from './limits.ts';

type Fault = NonNullable<Summary['fault']>;

/**
 * What is wrong with the signal, in words. Without any: faults of the speed, not of the sensor. The spindle ran up or down
 * meanwhile, or turned at another speed than was told.
 */
const FAULT_WORDS: Readonly<Record<Fault, string | undefined>> = {
  clipped: say`it is cut off at the ends of its range`,
  flat: say`it is a flat line`,
  dropout: say`samples are missing in it`,
  bias: say`its mean is far off where it has to be`,
  implausible: say`its figures cannot be true`,
  'speed-unsteady': undefined,
  'wrong-speed': undefined,
};

/** Who found what is wrong: the sensor that sent the reading, or the analysis of the raw window that it was made of. */
export type ToldBy = 'sensor' | 'analysis';
const TOLD_WORDS: Readonly<Record<ToldBy, (told: string) => string>> = {
  sensor: (told) => say`the sensor says of its signal: ${told}`,
  analysis: (told) => say`the raw window shows of the signal: ${told}`,
};

export const toldBy = ({ id }: { readonly id: string }): ToldBy =>
  id.startsWith(MADE_OF_WAVE) ? 'analysis' : 'sensor';

export interface Oddity {
  readonly kind: OddKind;
  readonly why: string;
}

/** Of the overall velocity of a spindle's readings, as far as it is known. */
export function velocityBandOf(spindle: SpindleState | undefined): readonly [number, number] {
  return spindle?.declaration?.measuring.velocityBandHz ?? VELOCITY_BAND_HZ;
}

/** Whether the 1× part is in the whole: a filter that ends near it leaves a part of it out, and no sensor is to blame. */
function holdsFirstOrder([fromHz, toHz]: readonly [number, number], { speedRpm }: Summary): boolean {
  const hz = speedRpm / 60;
  return hz >= BAND_EDGE_CLEAR * fromHz && BAND_EDGE_CLEAR * hz <= toHz;
}

/** What is odd about a reading, its overall velocity being of a band; undefined where nothing is. */
export function oddityOf(
  data: Summary,
  by: ToldBy = 'sensor',
  bandHz: readonly [number, number] = VELOCITY_BAND_HZ,
): Oddity | undefined {
  const { fault, speedRpm, overallMmS, synchronousMmS } = data;
  const told = fault === undefined ? undefined : FAULT_WORDS[fault];
  if (told !== undefined) return { kind: 'told', why: TOLD_WORDS[by](told) };
  if (overallMmS > HOUSING_MAX_MMS)
    return {
      kind: 'beyond',
      why: say`a velocity of more than ${HOUSING_MAX_MMS} mm/s is none that a housing can have`,
    };
  if (
    synchronousMmS !== undefined &&
    synchronousMmS > overallMmS * SYNCHRONOUS_OVER_OVERALL + SYNCHRONOUS_FLOOR_MMS &&
    holdsFirstOrder(bandHz, data)
  )
    return { kind: 'part-over-whole', why: say`the 1× part is more than the whole` };
  if (speedRpm < 1)
    return overallMmS > STANDSTILL_VIBRATION_MMS && isSteady(data)
      ? { kind: 'standing', why: say`vibration at standstill` }
      : undefined;
  return overallMmS === 0 ? { kind: 'turning', why: say`no vibration at all while turning` } : undefined;
}

/** At a known speed: any other fault was found already. */
const isSteady = ({ steady, fault }: Summary): boolean => steady !== false && fault === undefined;

/** Whether a reading of a sensor with this fault would look odd: only such a reading says that it is sound. */
function wouldShow(kind: OddKind, data: Summary, spindle: SpindleState): boolean {
  const { speedRpm, synchronousMmS = 0, cutting } = data;
  switch (kind) {
    case 'told':
    case 'beyond':
      return true;
    case 'part-over-whole':
      // In the cut the teeth make most of the whole, and a whole that is told too low is still more than its part.
      return (
        synchronousMmS > SYNCHRONOUS_FLOOR_MMS &&
        !(cutting ?? spindle.machine?.cutting ?? false) &&
        holdsFirstOrder(velocityBandOf(spindle), data)
      );
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
export function signalCounts(spindle: SpindleState, data: Summary, by?: ToldBy): SignalCounts {
  const { live } = spindle;
  const odd = oddityOf(data, by, velocityBandOf(spindle));
  const sameInRow = data.speedRpm < 1 ? live.sameInRow : isSame(live, data) ? live.sameInRow + 1 : 0;
  if (odd !== undefined) return { odd, oddInRow: live.oddInRow[odd.kind] + 1, soundInRow: 0, sameInRow };
  const shows = live.lastOdd === undefined || wouldShow(live.lastOdd, data, spindle);
  return { odd, oddInRow: 0, soundInRow: live.soundInRow + (shows ? 1 : 0), sameInRow };
}

/** Takes a reading into the counts. */
export function foldSignal(spindle: SpindleState, data: Summary): void {
  const { live } = spindle;
  const { odd, oddInRow, soundInRow, sameInRow } = signalCounts(spindle, data);
  // Most spindles never told anything odd: there is nothing to count, and nothing to set back.
  if (odd !== undefined || live.lastOdd !== undefined) foldOdd(spindle, data, odd, oddInRow);
  if (odd !== undefined) live.lastOdd = odd.kind;
  live.soundInRow = soundInRow;
  live.sameInRow = sameInRow;
  if (data.speedRpm < 1) return;
  live.inMotion.overallMmS = data.overallMmS;
  live.inMotion.synchronousMmS = data.synchronousMmS;
  live.inMotion.accelerationRmsMS2 = data.accelerationRmsMS2;
}

function foldOdd(spindle: SpindleState, data: Summary, odd: Oddity | undefined, oddInRow: number): void {
  const { live } = spindle;
  for (const kind of ODD_KINDS) {
    if (kind === odd?.kind) live.oddInRow[kind] = oddInRow;
    else if (live.oddInRow[kind] > 0 && wouldShow(kind, data, spindle)) live.oddInRow[kind] = 0;
  }
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

/** What one reading is enough for. */
const isCertain = (kind: OddKind): boolean => kind === 'told' || kind === 'beyond';

/** The state that a reading puts its spindle in; undefined where it stays as it is. Never a hold, never a release. */
export function stateAfter(spindle: SpindleState, data: Summary, counts: SignalCounts): StateOf | undefined {
  const { state } = spindle;
  if (counts.odd !== undefined) {
    const { kind, why } = counts.odd;
    if (state === 'implausible' || (!isCertain(kind) && counts.oddInRow < ODD_READINGS)) return undefined;
    return { state: 'implausible', why };
  }
  if (data.speedRpm >= 1 && counts.sameInRow + 1 >= stuckAfter(data)) {
    const why = say`the same numbers to the last digit ${counts.sameInRow + 1} times in a row`;
    return state === 'stuck' || state === 'implausible' ? undefined : { state: 'stuck', why };
  }
  switch (state) {
    case 'reporting':
      return undefined;
    case 'implausible':
      return counts.soundInRow >= SOUND_READINGS && ODD_KINDS.every((kind) => isSoundAgain(spindle, kind, data))
        ? { state: 'reporting', why: say`its readings are sound again` }
        : undefined;
    case 'stuck':
      return counts.sameInRow === 0 ? { state: 'reporting', why: say`its readings change again` } : undefined;
    case 'silent':
    case 'offline':
      return { state: 'reporting', why: say`readings come again` };
    case 'mistimed':
      return { state: 'reporting', why: say`its readings tell of now again` };
  }
}

/** An oddity that was certain is past only when a reading could have shown it and did not. */
function isSoundAgain(spindle: SpindleState, kind: OddKind, data: Summary): boolean {
  return spindle.live.oddInRow[kind] < ODD_READINGS || wouldShow(kind, data, spindle);
}
