// The rolling bearings of the invented spindles: what the engineer declared of them, and the flaw that one of them has.
import type { Bearing } from '../shared/bearing.ts';
import type { BearingPart } from '../shared/wave-analysis.ts';

const SOURCE = 'invented for the demonstration';

/** A flaw in one place: how hard it strikes, as a share of the bearing's own noise, whatever else grows. */
export interface BearingFlaw {
  readonly bearing: 'front' | 'rear';
  readonly part: Exclude<BearingPart, 'cage'>;
  readonly size: number;
}

/** In front by its geometry, behind by multiples of the shaft's speed, as sheets give one or the other. */
export function bearingsOf(pitchDiameterMm: number): readonly [Bearing, Bearing] {
  const elementDiameterMm = Math.round(pitchDiameterMm * 1.25) / 10;
  return [
    {
      name: 'front',
      source: SOURCE,
      geometry: { elements: 19, elementDiameterMm, pitchDiameterMm, contactAngleDeg: 15 },
    },
    // 15 elements, a ratio of 0.14: kinematics of rolling without slip.
    { name: 'rear', source: SOURCE, multiples: { cage: 0.43, outer: 6.45, inner: 8.55, rolling: 3.501 } },
  ];
}

/** Small enough that no reading of it tells, only the envelope of its windows does. */
export const FLAW_OF_ONE_SPINDLE: BearingFlaw = { bearing: 'front', part: 'outer', size: 1.2 };
export const FLAWED_SPINDLE = 5;

/** Where a fault that grows in a spindle's bearings sits: told by nobody, the same for ever. */
export function growingFlawOf(spindle: number): Pick<BearingFlaw, 'bearing' | 'part'> {
  const parts = ['inner', 'outer', 'rolling'] as const;
  return { bearing: 'front', part: parts[spindle % parts.length] ?? 'inner' };
}
