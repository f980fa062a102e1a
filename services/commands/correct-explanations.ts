// How the effect of each step was reckoned, with the numbers in it.
import type { AdvicePlan, AdviceStep } from '../../shared/advice.ts';
import { chordMm, pointHeightMm, type CorrectionQuestion } from '../../shared/correction/index.ts';
import type { CorrectionFeature } from '../../shared/messages/index.ts';
import type { Explanation } from './explain.ts';
import { inFigures, showValue, showVector } from './value-units.ts';

const n = (value: number): string => inFigures(value, 5);

/** The steps of the best plan, then what it leaves. */
export function planExplained(question: CorrectionQuestion, plan: AdvicePlan): readonly Explanation[] {
  const steps = plan.steps.flatMap((step) => {
    const feature = question.features.find(({ featureId }) => featureId === step.featureId);
    return feature === undefined ? [] : [stepExplained(feature, step)];
  });
  return [...steps, ...plan.predicted.map((left, i) => leftExplained(question, plan, left, i))];
}

function stepExplained(feature: CorrectionFeature, step: AdviceStep): Explanation {
  return { what: step.words, ...formulaOf(feature, step), result: showVector(step.effect) };
}

type Formula = Pick<Explanation, 'formula' | 'numbers' | 'source'>;

function formulaOf(feature: CorrectionFeature, step: AdviceStep): Formula {
  const { depthMm: t = 0, diameterMm: d = 0, massG = 0 } = step;
  switch (feature.kind) {
    case 'radial-holes': {
      const h = pointHeightMm(d, feature.pointAngleDeg);
      return {
        formula: 'U = ρ·[πd²t/4·(R − t/2) + πd²h/12·(R − t − h/4)], h = d/2/tan(σ/2), opposite to the hole',
        numbers: `ρ ${feature.densityGCm3} g/cm³, d ${d} mm, t ${t} mm, R ${feature.radiusMm} mm, σ ${feature.pointAngleDeg}°, h ${n(h)} mm`,
        source: 'geometry',
      };
    }
    case 'axial-holes': {
      const h = pointHeightMm(d, feature.pointAngleDeg);
      return {
        formula: 'U = ρ·(πd²t/4 + πd²h/12)·r, h = d/2/tan(σ/2), opposite to the hole',
        numbers: `ρ ${feature.densityGCm3} g/cm³, d ${d} mm, t ${t} mm, r ${feature.radiusMm} mm, σ ${feature.pointAngleDeg}°, h ${n(h)} mm`,
        source: 'geometry',
      };
    }
    case 'flats': {
      const { radiusMm, widthMm, densityGCm3 } = feature;
      return {
        formula: 'U = ρ·b·⅔·(c/2)³, c = 2·√(2Rt − t²), opposite to the flat',
        numbers: `ρ ${densityGCm3} g/cm³, b ${widthMm} mm, R ${radiusMm} mm, t ${t} mm, c ${n(chordMm({ radiusMm, widthMm, depthMm: t }))} mm`,
        source: 'geometry',
      };
    }
    case 'set-screws':
      return {
        formula: 'U = (mass now in the hole − mass before)·r',
        numbers: `mass now ${n(massG)} g, r ${feature.radiusMm} mm, change ${n(step.effect.gmm / feature.radiusMm)} g`,
        source: 'geometry',
      };
    case 'added-mass':
      return {
        formula: 'U = m·r at its angle',
        numbers: `m ${n(massG)} g, r ${feature.radiusMm} mm`,
        source: 'geometry',
      };
    case 'rings':
      return {
        formula: 'change = u∠(where it stands afterwards) − u∠(where it stood)',
        numbers: `u ${n(feature.eachGmm[step.ring === 2 ? 1 : 0])} g·mm, afterwards ${n(step.angleDeg)}°`,
        source: 'geometry',
      };
  }
}

function leftExplained(
  { planes }: CorrectionQuestion,
  { steps }: AdvicePlan,
  left: AdvicePlan['whole'],
  index: number,
): Explanation {
  const measured = planes[index]?.unbalance ?? { gmm: 0, angleDeg: 0 };
  const effects = steps.map(({ effect }) => showVector(effect)).join(' + ');
  const shares = planes.length === 1 ? '' : ', each by its share in this plane';
  return {
    what: `left${planes.length === 1 ? '' : ` in plane ${left.plane}`}`,
    formula: `measured + effects${shares}, as vectors`,
    numbers: `${showVector(measured)} + ${effects}`,
    result: `${showVector({ gmm: left.residualGmm, angleDeg: left.angleDeg })}, error ${showValue('unbalance', left.errorGmm)}`,
    source: 'vector sum; error: root sum of squares of ΔU and of half a step at each setting',
  };
}
