// Bounded physical quantities for wire schemas: a field's name carries its unit, its schema the UCUM code and what is possible at all.
import * as z from 'zod';
import { say } from './language/index.ts';

interface Bounds {
  readonly min: number;
  readonly max: number;
}

/** Where people call a unit otherwise than its UCUM code does. */
const SPOKEN: Readonly<Record<string, string>> = {
  '{rev}/min': say`rpm`,
  'g.mm': 'g·mm',
  'm/s2': 'm/s²',
  deg: '°',
  um: 'µm',
};

/** A finite number within what the quantity can be; NaN, Infinity and 1e308 are refused with the range that was expected. */
export function quantity(ucum: string, { min, max }: Bounds, description: string): z.ZodNumber {
  const unit = SPOKEN[ucum] ?? ucum;
  return z
    .number({ error: say`expected a number from ${min} to ${max} (${unit})` })
    .min(min, say`expected at least ${min} (${unit})`)
    .max(max, say`expected at most ${max} (${unit})`)
    .meta({ description, ucum });
}

export const MassKg = quantity('kg', { min: 0.001, max: 5000 }, 'mass');
export const SpeedRpm = quantity('{rev}/min', { min: 1, max: 500_000 }, 'rotational speed, turning');
export const SpeedOrStandstillRpm = quantity(
  '{rev}/min',
  { min: 0, max: 500_000 },
  'rotational speed, zero at standstill',
);
export const GradeMmS = quantity('mm/s', { min: 0.01, max: 4000 }, 'balance quality grade G (ISO 21940-11)');
export const UnbalanceGmm = quantity('g.mm', { min: 0, max: 1e9 }, 'amount of unbalance');
export const AngleDeg = quantity('deg', { min: -3600, max: 3600 }, 'angle counter-clockwise from the marked reference');
export const VelocityMmS = quantity('mm/s', { min: 0, max: 10_000 }, 'vibration velocity, RMS');
export const AccelerationMS2 = quantity('m/s2', { min: 0, max: 1e6 }, 'vibration acceleration');
export const LengthMm = quantity('mm', { min: 0, max: 100_000 }, 'length');
export const PositionMm = quantity('mm', { min: -100_000, max: 100_000 }, 'position along the axis');
export const EccentricityUm = quantity('um', { min: 0, max: 10_000 }, 'eccentricity');
export const Percent = quantity('%', { min: 0, max: 1000 }, 'share');
