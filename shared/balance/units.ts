// Conversions for the edges only: everything inside is in g·mm, kg, mm, N and mm/s.
import { expectFinite, finiteOutcome } from './input-guard.ts';

const KG_PER_LB = 0.453_592_37;
const G_PER_OZ = (KG_PER_LB * 1000) / 16;
const MM_PER_INCH = 25.4;
/** Standard gravity: 1 lbf is what a pound weighs there. */
const N_PER_LBF = KG_PER_LB * 9.806_65;
const GMM_PER_GCM = 10;
const GMM_PER_KGM = 1e6;

function convert(value: number, factor: number): number {
  expectFinite(value, 'value');
  return finiteOutcome(value * factor, 'value');
}

/** g·mm to oz·in, by the international pound and inch. Throws a RangeError for a non-finite value, as all here do. */
export const ozInFromGmm = (gmm: number): number => convert(gmm, 1 / (G_PER_OZ * MM_PER_INCH));

/** oz·in to g·mm. */
export const gmmFromOzIn = (ozIn: number): number => convert(ozIn, G_PER_OZ * MM_PER_INCH);

/** g·in to g·mm. */
export const gmmFromGIn = (gIn: number): number => convert(gIn, MM_PER_INCH);

/** g·cm to g·mm. */
export const gmmFromGCm = (gCm: number): number => convert(gCm, GMM_PER_GCM);

/** kg·m to g·mm: large rotors. */
export const gmmFromKgM = (kgM: number): number => convert(kgM, GMM_PER_KGM);

/** lb to kg. */
export const kgFromLb = (lb: number): number => convert(lb, KG_PER_LB);

/** kg to lb. */
export const lbFromKg = (kg: number): number => convert(kg, 1 / KG_PER_LB);

/** oz to g. */
export const gFromOz = (oz: number): number => convert(oz, G_PER_OZ);

/** g to oz. */
export const ozFromG = (g: number): number => convert(g, 1 / G_PER_OZ);

/** in to mm. */
export const mmFromInch = (inch: number): number => convert(inch, MM_PER_INCH);

/** mm to in. */
export const inchFromMm = (mm: number): number => convert(mm, 1 / MM_PER_INCH);

/** mm/s to in/s. */
export const inPerSFromMmPerS = (mmPerS: number): number => convert(mmPerS, 1 / MM_PER_INCH);

/** in/s to mm/s. */
export const mmPerSFromInPerS = (inPerS: number): number => convert(inPerS, MM_PER_INCH);

/** lbf to N. */
export const nFromLbf = (lbf: number): number => convert(lbf, N_PER_LBF);

/** N to lbf. */
export const lbfFromN = (n: number): number => convert(n, 1 / N_PER_LBF);
