// A load as it is weighed: what each speed of it showed, and what its assembly was measured with.
import {
  BENCH_ERROR_GMM,
  BENCH_ERROR_SHARE,
  MARK_VARIANCE,
  MISREAD_SHARE,
  MISREAD_SHOWN_SHARE,
  MISREAD_UNKNOWN_GMM,
  PAIR_VARIANCE,
  PHASE_AGREES,
  READING_VARIANCE,
  RESIDUAL_UNKNOWN_GMM,
  REST_SHARE,
  SHOWN_ERROR_SHARE,
  SHOWN_LEAST_GMM,
  SHOWN_LOADS_MIN,
  SPEED_CONTRADICTS_OF_LOAD,
  STEP_MMS,
  TOLD_LEAST_MMS,
} from './limits.ts';
import type { BuildOdds, LoadMark } from './relating-state.ts';

/** One speed of a load. */
export interface ToldSpeed {
  readonly bin: number;
  readonly rpm: number;
  /** ln of the 1×, mm/s RMS, and the variance of its error. */
  readonly ln: number;
  readonly error: number;
  /** Phase of the 1× against the tacho's mark, its error, in radians, as that of ln; undefined without a tacho. */
  readonly phaseRad: number | undefined;
  /** ln of what is beside 1× and 2×, mm/s RMS, and what its square is unsure by beside the 1×, (mm/s)². */
  readonly restLn: number;
  readonly restMargin: number;
}

export interface ToldLoad {
  readonly speeds: readonly ToldSpeed[];
  /** Whether its speed is the one that the control says: undefined where that says nothing that could be held against it. */
  readonly speedHeld: 'agrees' | 'contradicts' | undefined;
  /** The residual: its vector in the assembly's frame, and its amount, g·mm; where nobody measured it, what its loads showed. */
  readonly residualX: number;
  readonly residualY: number;
  readonly residualGmm: number;
  /** Whether its angle is known: without, it is at any to the spindle's own, with a key as well. */
  readonly isAngleKnown: boolean;
  /** What the residual may be off by, as a square, (g·mm)². */
  readonly errorGmm2: number;
  /** Standard deviation of what was read of it, in each direction, the same in all its loads, g·mm. */
  readonly misreadGmm: number;
  /** Root mean square of what a clamping adds by the interface and the mass, g·mm. */
  readonly clampingGmm: number;
}

/** What is finer than a sensor tells is nothing. */
const lnOf = (square: number): number => Math.log(square + TOLD_LEAST_MMS ** 2) / 2;

/** Of the mean of so many readings, of the steps in which they are told, and for no pair answers by the law exactly. */
function errorOf({ readings, square }: LoadMark): number {
  const step = (STEP_MMS * STEP_MMS) / (4 * (square + TOLD_LEAST_MMS * TOLD_LEAST_MMS));
  return READING_VARIANCE / readings + MARK_VARIANCE + PAIR_VARIANCE + step;
}

/** Overall and 1× come of one record, whose noise they share: what is left is unsure by the steps of both, and by a share of them. */
const marginOf = (square: number): number =>
  2 * Math.sqrt(square) * (STEP_MMS / Math.sqrt(6) + REST_SHARE * Math.sqrt(square));

const toldSpeedOf = (mark: LoadMark): ToldSpeed => ({
  bin: mark.bin,
  rpm: mark.speedRpm,
  ln: lnOf(mark.square),
  error: errorOf(mark),
  phaseRad: Math.hypot(mark.phaseX, mark.phaseY) > PHASE_AGREES ? Math.atan2(mark.phaseY, mark.phaseX) : undefined,
  restLn: lnOf(Math.max(mark.restSquare, 0)),
  restMargin: marginOf(mark.square + Math.max(mark.restSquare, 0)),
});

/** The marks of one load: of each speed the latest part. Undefined where there are none. */
export function toldLoadOf(
  marks: readonly LoadMark[],
  ordinal: number,
  build: BuildOdds | undefined,
): ToldLoad | undefined {
  const latest = new Map<number, LoadMark>();
  for (const mark of marks) if (mark.ordinal === ordinal) latest.set(mark.bin, mark);
  const all = [...latest.values()];
  // A single reading says little of a speed that others speak of too.
  const speeds = all.filter(({ readings }) => readings > 1 || all.length === 1).map(toldSpeedOf);
  const last = all.at(-1);
  const seen = { speeds, speedHeld: speedHeldOf(marks, ordinal) };
  return last === undefined || speeds.length === 0 ? undefined : toldOf(last, seen, build);
}

/** How many readings of a load told the speed that the control did, and how many contradicted it. */
export function speedsHeld(marks: readonly LoadMark[], ordinal: number): SpeedsHeld {
  let [agrees, contradicts] = [0, 0];
  for (const mark of marks) {
    if (mark.ordinal !== ordinal) continue;
    agrees += mark.speedAgrees;
    contradicts += mark.speedContradicts;
  }
  return { agrees, contradicts };
}

interface SpeedsHeld {
  readonly agrees: number;
  readonly contradicts: number;
}

/** By all marks of the load, the earlier parts among them: a sensor of another spindle tells the right speed now and then. */
export function speedHeldOf(marks: readonly LoadMark[], ordinal: number): ToldLoad['speedHeld'] {
  const { agrees, contradicts } = speedsHeld(marks, ordinal);
  if (agrees + contradicts === 0) return undefined;
  return contradicts >= SPEED_CONTRADICTS_OF_LOAD * (agrees + contradicts) ? 'contradicts' : 'agrees';
}

type SeenOfLoad = Pick<ToldLoad, 'speeds' | 'speedHeld'>;

/** What is known of a mark's assembly, with speeds that it was seen at. */
function toldOf(mark: LoadMark, seen: SeenOfLoad, build: BuildOdds | undefined): ToldLoad {
  const { residualGmm, residualAngleDeg, clampingGmm } = mark;
  if (residualGmm === undefined || isAccepted(mark, build)) return asShown(mark, seen, build);
  const angle = (residualAngleDeg * Math.PI) / 180;
  return {
    ...seen,
    residualX: residualGmm * Math.cos(angle),
    residualY: residualGmm * Math.sin(angle),
    residualGmm,
    isAngleKnown: true,
    errorGmm2: (BENCH_ERROR_SHARE * residualGmm) ** 2 + BENCH_ERROR_GMM ** 2,
    misreadGmm: Math.hypot(mark.misreadGmm, MISREAD_SHARE * residualGmm),
    clampingGmm,
  };
}

/** A hold on it ended without a measurement: what the bench told of it does not tell what it shows. */
export const isAccepted = ({ pair }: Pick<LoadMark, 'pair'>, build: BuildOdds | undefined): boolean =>
  build?.pair === pair && build.isAccepted;

/** Nobody measured it, or that says too little: its loads show what is to be expected of it. */
function asShown(mark: LoadMark, seen: SeenOfLoad, build: BuildOdds | undefined): ToldLoad {
  const shown = shownOf(mark, build);
  const residualGmm = shown ?? RESIDUAL_UNKNOWN_GMM;
  const share = shown === undefined ? 1 : SHOWN_ERROR_SHARE;
  return {
    ...seen,
    residualX: residualGmm,
    residualY: 0,
    residualGmm,
    isAngleKnown: false,
    errorGmm2: (share * residualGmm) ** 2,
    misreadGmm: Math.hypot(MISREAD_UNKNOWN_GMM, MISREAD_SHOWN_SHARE * residualGmm),
    clampingGmm: mark.clampingGmm,
  };
}

/** The residual that the loads of an unmeasured build showed, g·mm; undefined before it has had enough of them. */
export function shownOf({ pair }: Pick<LoadMark, 'pair'>, build: BuildOdds | undefined): number | undefined {
  const shown = build?.pair === pair ? build.shown : undefined;
  return shown === undefined || shown.loads < SHOWN_LOADS_MIN
    ? undefined
    : Math.sqrt(Math.max(shown.square, SHOWN_LEAST_GMM ** 2));
}

export const atSpeedOf = (mark: LoadMark, build: BuildOdds | undefined): ToldLoad =>
  toldOf(mark, { speeds: [toldSpeedOf(mark)], speedHeld: undefined }, build);
