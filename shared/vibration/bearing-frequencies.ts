// How often the parts of a rolling bearing pass or strike, from its geometry or from given multiples of the shaft's speed.
import type { Bearing, BearingGeometry, BearingMultiples } from '../bearing.ts';
import type { BearingPart } from '../wave-analysis.ts';

/**
 * Multiples of the shaft's frequency for a bearing whose outer race stands still and whose elements roll without slip: kinematics,
 * with r = (element diameter / pitch diameter)·cos(contact angle). `rolling` is the spin of an element about its own axis.
 * Randall & Antoni, Rolling element bearing diagnostics, Mechanical Systems and Signal Processing 25 (2011).
 */
export function multiplesOf(geometry: BearingGeometry): BearingMultiples {
  const ratio = geometry.elementDiameterMm / geometry.pitchDiameterMm;
  const rolled = ratio * Math.cos((geometry.contactAngleDeg * Math.PI) / 180);
  return {
    cage: (1 - rolled) / 2,
    outer: (geometry.elements * (1 - rolled)) / 2,
    inner: (geometry.elements * (1 + rolled)) / 2,
    rolling: (1 - rolled * rolled) / (2 * ratio),
  };
}

/** The multiples that a bearing was declared with, or those of its geometry. Throws where it has neither. */
export function declaredMultiples(bearing: Bearing): BearingMultiples {
  if (bearing.multiples !== undefined) return bearing.multiples;
  if (bearing.geometry === undefined) throw new Error(`bearing ${bearing.name}: expected geometry or multiples`);
  return multiplesOf(bearing.geometry);
}

/**
 * Orders (multiples of the shaft's frequency) at which a defect of each part speaks. Outer and inner race: each element strikes
 * once as it passes. `rolling`: **twice** the element's spin, because a flaw on it strikes both races in each turn; published
 * tables of "ball" multiples are often these doubled numbers already, and the declared multiple is the single one.
 */
export function defectOrders(bearing: Bearing): Record<BearingPart, number> {
  const multiples = declaredMultiples(bearing);
  return {
    cage: multiples.cage,
    outer: multiples.outer,
    inner: multiples.inner,
    rolling: 2 * multiples.rolling,
  };
}

/** The same in Hz at a speed in rpm. Real lines lie off these by one or two percent: elements slip. */
export function bearingFrequencies(bearing: Bearing, speedRpm: number): Record<BearingPart, number> {
  const shaftHz = speedRpm / 60;
  const orders = defectOrders(bearing);
  return {
    cage: orders.cage * shaftHz,
    outer: orders.outer * shaftHz,
    inner: orders.inner * shaftHz,
    rolling: orders.rolling * shaftHz,
  };
}
