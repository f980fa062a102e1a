// A speed that drifts, followed without marks: from the angle of the shaft's line in parts of the window.
import type { Arrows } from './harmonic-sums.ts';
import { solved } from './linear-equations.ts';
import type { TachoTurning } from './tacho.ts';

/** A drift is followed where it moves the shaft this share of a turn off an even turning: less costs 1× hardly a percent. */
const FOLLOWED_FROM_TURNS = 0.05;
/** Angles of the parts may lie so far off the parabola, in radians RMS; beyond it the speed swings or jumps and is not followed. */
const OFF_PARABOLA_MAX = 0.5;
/** Most turns that are followed: 10 s at 60,000 rpm. Beyond it the orders are told as of an even speed. */
const TURNS_MAX = 10_000;

interface Line {
  readonly hz: number;
  /** Which harmonic of the shaft it is. */
  readonly harmonic: number;
}

/** Angles of the arrows from part to part without jumps, each step less than half a turn. */
function unwrapped(arrows: Arrows): Float64Array {
  const angles = new Float64Array(arrows.re.length);
  for (let i = 1; i < angles.length; i += 1) {
    const re = arrows.re[i]! * arrows.re[i - 1]! + arrows.im[i]! * arrows.im[i - 1]!;
    const im = arrows.im[i]! * arrows.re[i - 1]! - arrows.re[i]! * arrows.im[i - 1]!;
    angles[i] = angles[i - 1]! + Math.atan2(im, re);
  }
  return angles;
}

/** Coefficients of the parabola a + b·u + c·u² through the angles by least squares, u from −1 to 1 over the parts. */
function parabolaThrough(angles: Float64Array): { readonly coefficients: Float64Array; readonly rmsOff: number } {
  const count = angles.length;
  const products = new Float64Array(9);
  const right = new Float64Array(3);
  const placeOf = (i: number): number => (2 * i) / (count - 1) - 1;
  for (let i = 0; i < count; i += 1) {
    for (let a = 0; a < 3; a += 1) {
      right[a] = right[a]! + angles[i]! * placeOf(i) ** a;
      for (let b = 0; b < 3; b += 1) products[3 * a + b] = products[3 * a + b]! + placeOf(i) ** (a + b);
    }
  }
  const coefficients = solved(products, right);
  let squares = 0;
  for (let i = 0; i < count; i += 1) {
    const u = placeOf(i);
    squares += (angles[i]! - coefficients[0]! - coefficients[1]! * u - coefficients[2]! * u * u) ** 2;
  }
  return { coefficients, rmsOff: Math.sqrt(squares / count) };
}

/**
 * The shaft's turning as if it had marks, one a turn from the window's start on, of a speed that changes evenly (its angle is a
 * parabola); undefined where the drift is too small to matter or the angles are no parabola. `even` is false, and its marks say
 * nothing of phase. Follows up to about half a turn of the line from part to part.
 */
export function followedDrift(
  arrows: Arrows,
  { hz, harmonic }: Line,
  sampleRateHz: number,
  samples: number,
): TachoTurning | undefined {
  if (arrows.re.length < 4) return undefined;
  const { coefficients, rmsOff } = parabolaThrough(unwrapped(arrows));
  const [, slope = 0, bend = 0] = coefficients;
  // From u back to seconds: the parts' middles are `apart` samples apart, the first one `apart` after the start.
  const halfS = ((arrows.re.length - 1) * arrows.apart) / 2 / sampleRateHz;
  const middleS = halfS + arrows.apart / sampleRateHz;
  const endS = samples / sampleRateHz;
  const perTurn = 2 * Math.PI * harmonic;
  const turnsAt = (s: number): number => {
    const u = (s - middleS) / halfS;
    return (hz * s) / harmonic + (slope * u + bend * u * u) / perTurn;
  };
  const offEven = (Math.abs(bend) * (endS / 2 / halfS) ** 2 * 2) / 3 / perTurn;
  const passed = Math.floor(turnsAt(endS) - turnsAt(0));
  if (rmsOff > OFF_PARABOLA_MAX || offEven < FOLLOWED_FROM_TURNS || passed < 4 || passed > TURNS_MAX) return undefined;
  const marksS = new Float64Array(passed + 1);
  const turns = new Float64Array(passed + 1);
  for (let turn = 1; turn <= passed; turn += 1) {
    // A step at the speed of the mark before, corrected twice: the speed changes by far less than a hundredth in a turn.
    let s = marksS[turn - 1]! + endS / (passed + 1);
    for (let round = 0; round < 3; round += 1) {
      const u = (s - middleS) / halfS;
      const speedHz = hz / harmonic + (slope + 2 * bend * u) / halfS / perTurn;
      s -= (turnsAt(s) - turnsAt(0) - turn) / speedHz;
    }
    marksS[turn] = s;
    turns[turn] = turn;
  }
  const shaftHz = (turnsAt(endS) - turnsAt(0)) / endS;
  const spreadPercent = (100 * Math.abs(bend) * endS) / halfS / halfS / perTurn / shaftHz;
  return { shaftHz, markS: 0, even: false, marksS, turns, spreadPercent };
}
