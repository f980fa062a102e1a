// Bearing frequencies against published tables and kinematics.
import { describe, expect, it } from 'vitest';
import { Bearing } from '../../../shared/bearing.ts';
import { bearingFrequencies, declaredMultiples } from '../../../shared/vibration/bearing-frequencies.ts';

const INCH_MM = 25.4;

function bearingOf(elements: number, elementDiameterMm: number, pitchDiameterMm: number, contactAngleDeg = 0): Bearing {
  return Bearing.parse({
    name: 'front',
    source: 'invented for a check',
    geometry: { elements, elementDiameterMm, pitchDiameterMm, contactAngleDeg },
  });
}

describe('multiples of the shaft speed against published tables', () => {
  // Case Western Reserve University, bearing data center, "bearing information", drive end: 6205-2RS.
  it('gives the published ones of a bearing of nine balls', () => {
    const bearing = bearingOf(9, 0.3126 * INCH_MM, 1.537 * INCH_MM);
    const multiples = declaredMultiples(bearing);
    expect(multiples.inner).toBeCloseTo(5.4152, 4);
    expect(multiples.outer).toBeCloseTo(3.5848, 4);
    expect(multiples.cage).toBeCloseTo(0.39828, 4);
    // The table's "rolling element" 4.7135 is the rate of strikes, twice the spin.
    expect(multiples.rolling).toBeCloseTo(2.35672, 4);
    expect(bearingFrequencies(bearing, 60).rolling).toBeCloseTo(4.7135, 3);
  });

  // The same table, fan end: 6203-2RS. Its multiples need eight balls; with nine they would be 3.4348 and 5.5652.
  it('gives the published ones of a bearing of eight balls', () => {
    const bearing = bearingOf(8, 0.2656 * INCH_MM, 1.122 * INCH_MM);
    const multiples = declaredMultiples(bearing);
    expect(multiples.inner).toBeCloseTo(4.9469, 3);
    expect(multiples.outer).toBeCloseTo(3.053, 3);
    expect(multiples.cage).toBeCloseTo(0.3817, 3);
    expect(bearingFrequencies(bearing, 60).rolling).toBeCloseTo(3.9874, 3);
  });

  // Public examples with this data set at 1797 rpm print 107.364, 162.186, 70.584 and 11.929 Hz.
  it('gives them in Hz at a speed', () => {
    const frequencies = bearingFrequencies(bearingOf(9, 7.94, 39.04), 1797);
    expect(frequencies.outer).toBeCloseTo(107.3643, 3);
    expect(frequencies.inner).toBeCloseTo(162.1857, 3);
    expect(frequencies.rolling).toBeCloseTo(2 * 70.5846, 3);
    expect(frequencies.cage).toBeCloseTo(11.9294, 3);
  });

  // Inputs from the documentation of a numerical library; the values are reckoned from the kinematics.
  it('counts the contact angle', () => {
    const frequencies = bearingFrequencies(bearingOf(8, 2, 12, 15), 1500);
    expect(frequencies.outer).toBeCloseTo(83.9012, 3);
    expect(frequencies.inner).toBeCloseTo(116.0988, 3);
    expect(frequencies.rolling).toBeCloseTo(2 * 73.0562, 3);
    expect(frequencies.cage).toBeCloseTo(10.4877, 3);
  });
});

describe('a bearing declared by multiples', () => {
  const bearing = Bearing.parse({
    name: 'rear',
    source: 'invented for a check',
    multiples: { cage: 0.4, outer: 5.6, inner: 8.4, rolling: 3.1 },
  });

  it('uses them as they are, and twice the spin for the rolling element', () => {
    expect(bearingFrequencies(bearing, 6000)).toEqual({ cage: 40, outer: 560, inner: 840, rolling: 620 });
  });
});

describe('kinematics', () => {
  it('holds for any geometry: outer and inner together are the elements, outer is the elements times the cage', () => {
    for (const [elements, diameter, pitch, angle] of [
      [7, 5, 30, 0],
      [19, 7.9, 80, 25],
      [12, 20, 61, 15],
    ] as const) {
      const { cage, outer, inner } = declaredMultiples(bearingOf(elements, diameter, pitch, angle));
      expect(outer + inner).toBeCloseTo(elements, 12);
      expect(outer).toBeCloseTo(elements * cage, 12);
    }
  });

  it('refuses an element as wide as the pitch circle', () => {
    expect(() => bearingOf(8, 30, 30)).toThrow(/less than pitchDiameterMm/);
  });
});
