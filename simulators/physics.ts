// How a spindle answers to unbalance: pure mechanics, no noise. V = A(n)·ω²·(U∠φ + own + m·e), each a rotating vector.
import { angularSpeedRadS } from '../shared/balance/index.ts';

/** A rotating vector by its parts, counted from the spindle's mark: in g·mm, µm or mm/s as its name says. */
export interface Rotating {
  readonly x: number;
  readonly y: number;
}

export const NOTHING: Rotating = { x: 0, y: 0 };

export function rotating(amount: number, angleDeg: number): Rotating {
  const radians = (angleDeg * Math.PI) / 180;
  return { x: amount * Math.cos(radians), y: amount * Math.sin(radians) };
}

export function added(...vectors: readonly Rotating[]): Rotating {
  let x = 0;
  let y = 0;
  for (const vector of vectors) {
    x += vector.x;
    y += vector.y;
  }
  return { x, y };
}

export function scaled(vector: Rotating, by: number): Rotating {
  return { x: vector.x * by, y: vector.y * by };
}

/** The first mode of the spindle in its housing, as the sensor feels it. */
export interface SpindleMode {
  readonly stiffnessNUm: number;
  readonly naturalHz: number;
  readonly dampingRatio: number;
  /** Where the sensor sits, against the spindle's tacho mark. */
  readonly sensorDeg: number;
}

/**
 * A(n) of one mode: velocity at the sensor, mm/s RMS, per newton of rotating force, as a complex number.
 * iω/k ÷ (1 − r² + 2iζr) with r = ω/ω₀. Source: mechanics (one degree of freedom under a harmonic force).
 */
export function responsePerN(mode: SpindleMode, speedRpm: number): Rotating {
  const omega = angularSpeedRadS(speedRpm);
  const r = omega / (2 * Math.PI * mode.naturalHz);
  const real = 1 - r * r;
  const imaginary = 2 * mode.dampingRatio * r;
  // ω in 1/s ÷ k in N/µm is µm/s per N; a thousandth of it is mm/s.
  const scale = omega / (mode.stiffnessNUm * 1000 * Math.SQRT2 * (real * real + imaginary * imaginary));
  const sensor = (mode.sensorDeg * Math.PI) / 180;
  // i·(real − i·imaginary) = imaginary + i·real, then turned by the sensor's place.
  return {
    x: scale * (imaginary * Math.cos(sensor) - real * Math.sin(sensor)),
    y: scale * (imaginary * Math.sin(sensor) + real * Math.cos(sensor)),
  };
}

/** Rotating force of an unbalance in N: U·10⁻⁶·ω². Source: mechanics. */
export function rotatingForceN(unbalanceGmm: Rotating, speedRpm: number): Rotating {
  const omega = angularSpeedRadS(speedRpm);
  return scaled(unbalanceGmm, 1e-6 * omega * omega);
}

/** What turns with the spindle, in g·mm: the assembly's residual, the spindle's own part, mass × this clamping's offset. */
export function wholeUnbalanceGmm(turning: {
  readonly residualGmm: Rotating;
  readonly ownGmm: Rotating;
  readonly massKg: number;
  readonly offsetUm: Rotating;
}): Rotating {
  return added(turning.residualGmm, turning.ownGmm, scaled(turning.offsetUm, turning.massKg));
}

/** The once-per-revolution velocity at the sensor, mm/s RMS, as a rotating vector. Source: mechanics. */
export function synchronousMmS(mode: SpindleMode, unbalanceGmm: Rotating, speedRpm: number): Rotating {
  const response = responsePerN(mode, speedRpm);
  const force = rotatingForceN(unbalanceGmm, speedRpm);
  return { x: response.x * force.x - response.y * force.y, y: response.x * force.y + response.y * force.x };
}

/** The unbalance, g·mm, that gives this once-per-revolution velocity at this speed: the same, solved. */
export function unbalanceForGmm(mode: SpindleMode, velocityMmS: number, speedRpm: number): number {
  const response = responsePerN(mode, speedRpm);
  const omega = angularSpeedRadS(speedRpm);
  return velocityMmS / (Math.hypot(response.x, response.y) * 1e-6 * omega * omega);
}

export function amountOf(vector: Rotating): number {
  return Math.hypot(vector.x, vector.y);
}

/** 0 <= angle < 360. */
export function angleOf(vector: Rotating): number {
  const degrees = (Math.atan2(vector.y, vector.x) * 180) / Math.PI;
  return degrees < 0 ? degrees + 360 : degrees;
}
