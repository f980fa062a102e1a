// Conversions for the edges only: everything inside is in g·mm, kg and mm/s.
import { expectFinite, finiteOutcome } from './input-guard.ts';

const KG_PER_LB = 0.453_592_37;
const G_PER_OZ = (KG_PER_LB * 1000) / 16;
const MM_PER_INCH = 25.4;

function convert(value: number, factor: number): number {
  expectFinite(value, 'value');
  return finiteOutcome(value * factor, 'value');
}

/** g·mm to oz·in, by the international pound and inch. Throws a RangeError for a non-finite value, as all here do. */
export const ozInFromGmm = (gmm: number): number => convert(gmm, 1 / (G_PER_OZ * MM_PER_INCH));

/** oz·in to g·mm. */
export const gmmFromOzIn = (ozIn: number): number => convert(ozIn, G_PER_OZ * MM_PER_INCH);

/** lb to kg. */
export const kgFromLb = (lb: number): number => convert(lb, KG_PER_LB);

/** kg to lb. */
export const lbFromKg = (kg: number): number => convert(kg, 1 / KG_PER_LB);

/** mm/s to in/s. */
export const inPerSFromMmPerS = (mmPerS: number): number => convert(mmPerS, 1 / MM_PER_INCH);

/** in/s to mm/s. */
export const mmPerSFromInPerS = (inPerS: number): number => convert(inPerS, MM_PER_INCH);
