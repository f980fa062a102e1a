// The formulas of the balance calculations with the numbers in them: what --explain prints.
import {
  angularSpeedRadS,
  centrifugalForceN,
  gradeReachedMmS,
  permissibleResidualGmm,
  permissibleSpecificUm,
  type BalanceDemand,
  type ErrorBudget,
} from '../../shared/balance/index.ts';
import type { Explanation } from './explain.ts';
import { inFigures } from './value-units.ts';

const FIGURES = 7;
const n = (value: number): string => inFigures(value, FIGURES);
const GRADE_SOURCE = 'ISO 21940-11';
const MECHANICS = 'mechanics';

export function omegaExplained(speedRpm: number): Explanation {
  return {
    what: 'angular speed',
    formula: 'ω = 2π·n/60',
    numbers: `2π · ${n(speedRpm)} rpm / 60`,
    result: `${n(angularSpeedRadS(speedRpm))} rad/s`,
    source: MECHANICS,
  };
}

export function permissibleExplained({ massKg, serviceSpeedRpm, gradeMmS }: BalanceDemand): readonly Explanation[] {
  const omega = n(angularSpeedRadS(serviceSpeedRpm));
  const specificUm = permissibleSpecificUm(gradeMmS, serviceSpeedRpm);
  return [
    omegaExplained(serviceSpeedRpm),
    {
      what: 'permissible specific unbalance',
      formula: 'e_per = 1000·G/ω',
      numbers: `1000 · ${n(gradeMmS)} mm/s / ${omega} rad/s`,
      result: `${n(specificUm)} µm`,
      source: GRADE_SOURCE,
    },
    {
      what: 'permissible residual unbalance',
      formula: 'U_per = e_per·m',
      numbers: `${n(specificUm)} µm · ${n(massKg)} kg`,
      result: `${n(permissibleResidualGmm({ massKg, serviceSpeedRpm, gradeMmS }))} g·mm`,
      source: GRADE_SOURCE,
    },
  ];
}

export function shareExplained(share: number, massKg: number): Explanation {
  return {
    what: 'its share of the mass',
    formula: 'm_plane = m·share, by the distance to the centre of mass, else half each',
    numbers: `${n(massKg)} kg · ${n(share)}`,
    result: `${n(massKg * share)} kg`,
    source: `${GRADE_SOURCE}, the bounds of the shares from memory`,
  };
}

export function forceExplained(unbalanceGmm: number, speedRpm: number): Explanation {
  return {
    what: 'rotating force',
    formula: 'F = U·10⁻⁶·ω²',
    numbers: `${n(unbalanceGmm)} g·mm · 10⁻⁶ · (${n(angularSpeedRadS(speedRpm))} rad/s)²`,
    result: `${n(centrifugalForceN(unbalanceGmm, speedRpm))} N`,
    source: MECHANICS,
  };
}

export function gradeExplained(residualGmm: number, massKg: number, speedRpm: number): Explanation {
  return {
    what: 'grade reached',
    formula: 'G = U·ω/(1000·m)',
    numbers: `${n(residualGmm)} g·mm · ${n(angularSpeedRadS(speedRpm))} rad/s / (1000 · ${n(massKg)} kg)`,
    result: `${n(gradeReachedMmS({ residualGmm, massKg, speedRpm }))} mm/s`,
    source: GRADE_SOURCE,
  };
}

export function highestSpeedExplained(residualGmm: number, massKg: number, gradeMmS: number, rpm: number): Explanation {
  return {
    what: 'highest speed at which the grade is met',
    formula: 'n = (60/2π)·1000·G·m/U',
    numbers: `9.549297 · 1000 · ${n(gradeMmS)} mm/s · ${n(massKg)} kg / ${n(residualGmm)} g·mm`,
    result: `${n(rpm)} rpm`,
    source: GRADE_SOURCE,
  };
}

export function errorExplained({ errorGmm, contributions }: ErrorBudget): Explanation {
  const sizes = contributions.map(({ gmm }) => `${n(gmm)}²`);
  return {
    what: 'measuring error',
    formula: 'ΔU = √(Σ ΔU_i²)',
    numbers: sizes.length === 0 ? 'nothing was told of it' : `√(${sizes.join(' + ')}) g·mm`,
    result: `${n(errorGmm)} g·mm`,
    source: 'ISO 21940-14, the rule of combination from memory',
  };
}

export function verdictExplained(residualGmm: number, errorGmm: number, permissibleGmm: number): Explanation {
  return {
    what: 'verdict',
    formula: 'within: U + ΔU ≤ U_per; exceeds: U − ΔU > U_per; else undecided',
    numbers: `${n(residualGmm)} ± ${n(errorGmm)} g·mm against ${n(permissibleGmm)} g·mm`,
    result: `${n(residualGmm - errorGmm)} … ${n(residualGmm + errorGmm)} g·mm`,
    source: 'ISO 21940-14',
  };
}
