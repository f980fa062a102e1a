// An invented spindle whose loads are drawn as vectors add up: what guesses of it have to find. By seed.
import type { LoadMark } from '../../../../services/rules/relating/relating-state.ts';
import { newGuesses, type Guesses } from '../../../../services/rules/relating/guesses.ts';
import { learnLoad } from '../../../../services/rules/relating/learn-load.ts';
import { atSpeedOf, type ToldLoad } from '../../../../services/rules/relating/told-load.ts';
import { draws, normal } from '../../../shared/statistics/invented-courses.ts';

export interface Truth {
  readonly seed: number;
  readonly keyed: boolean;
  /** The spindle's own unbalance, g·mm at an angle. */
  readonly ownGmm: number;
  readonly ownDeg: number;
  /** Root mean square of what a clamping adds, g·mm. */
  readonly clampingGmm: number;
  /** mm/s RMS per g·mm at each speed, and by how much it turns the angle, where a tacho tells it. */
  readonly answers: readonly { readonly rpm: number; readonly answer: number; readonly turnDeg?: number }[];
}

export const KEYED: Truth = {
  seed: 1,
  keyed: true,
  ownGmm: 8,
  ownDeg: 60,
  clampingGmm: 1.2,
  answers: [{ rpm: 12_000, answer: 0.05 }],
};
export const UNKEYED: Truth = { ...KEYED, keyed: false };
export const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

/** Six assemblies: residual, g·mm, and its angle. */
export const BUILT: readonly (readonly [gmm: number, deg: number])[] = [
  [2, 20],
  [4, 130],
  [6, 250],
  [9, 310],
  [12, 80],
  [15, 190],
];
/** What the interface lets a clamping be expected to add, root mean square, g·mm. */
const INTERFACE_GMM = 1.5;
const READINGS = 8;
const READING_NOISE = 0.03;
const REST_MM_S = 0.4;

/** Which build runs, any where it is not said; and what the 1×, and what is beside it, are multiplied by. */
export interface Change {
  readonly build?: number;
  readonly times?: number;
  readonly restTimes?: number;
}

/** Draws loads as marks, one for each speed. */
export function loadsOf(truth: Truth): (change?: Change) => readonly LoadMark[] {
  const draw = draws(truth.seed * 7919 + (truth.keyed ? 5 : 11));
  const other = draws(truth.seed);
  let ordinal = 0;
  return ({ build = Math.floor(draw() * BUILT.length), times = 1, restTimes = 1 } = {}) => {
    ordinal += 1;
    const [gmm = 0, deg = 0] = BUILT[build] ?? [];
    const turned = truth.keyed ? 0 : 360 * draw();
    const angle = ((deg + turned) * Math.PI) / 180;
    const own = (truth.ownDeg * Math.PI) / 180;
    const each = truth.clampingGmm / Math.SQRT2;
    const x = gmm * Math.cos(angle) + truth.ownGmm * Math.cos(own) + each * normal(draw);
    const y = gmm * Math.sin(angle) + truth.ownGmm * Math.sin(own) + each * normal(draw);
    return truth.answers.map(({ rpm, answer, turnDeg }): LoadMark => {
      const phase =
        Math.atan2(y, x) + ((turnDeg ?? 0) * Math.PI) / 180 + (READING_NOISE / Math.sqrt(READINGS)) * normal(other);
      const noise = (READING_NOISE / Math.sqrt(READINGS)) * normal(draw);
      const one = answer * Math.hypot(x, y) * times * Math.exp(noise);
      const rest = REST_MM_S * restTimes * Math.exp(0.1 * normal(draw));
      return {
        ordinal,
        assemblyId: `A-${build}`,
        buildId: 'b1',
        pair: `A-${build}/b1/1`,
        bench: 'bench-1',
        measured: 1,
        residualGmm: gmm,
        residualAngleDeg: deg,
        misreadGmm: 0.1,
        clampingGmm: INTERFACE_GMM,
        bin: rpm,
        part: 0,
        at: ordinal * 3_600_000,
        position: ordinal,
        lastAt: ordinal * 3_600_000,
        lastPosition: ordinal,
        speedRpm: rpm,
        readings: READINGS,
        square: one * one,
        recentSquare: one * one,
        offInRow: 0,
        restSquare: rest * rest,
        phaseX: turnDeg !== undefined ? Math.cos(phase) : 0,
        phaseY: turnDeg !== undefined ? Math.sin(phase) : 0,
        speedAgrees: 0,
        speedContradicts: 0,
        weighedSquare: 0,
        held: false,
      };
    });
  };
}

/** As the rules tell a load of it: all speeds of the load. */
export function toldOf(marks: readonly LoadMark[]): ToldLoad {
  const [first, ...others] = marks.map((mark) => atSpeedOf(mark, undefined));
  if (first === undefined) throw new Error('a load has at least one mark');
  return { ...first, speeds: [...first.speeds, ...others.flatMap(({ speeds }) => speeds)] };
}

/** Guesses of it after so many loads. */
export function learned(
  truth: Truth,
  loads: number,
): { readonly guesses: Guesses; readonly next: (change?: Change) => readonly LoadMark[] } {
  const guesses = newGuesses();
  const next = loadsOf(truth);
  for (let nth = 0; nth < loads; nth += 1) learnLoad(guesses, toldOf(next()));
  return { guesses, next };
}

/** Mean over the guesses. */
export const meanOf = ({ weight }: Guesses, of: (guess: number) => number): number =>
  weight.reduce((sum, one, guess) => sum + one * of(guess), 0);
