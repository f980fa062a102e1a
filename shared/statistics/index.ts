// The face of the small statistics: each piece has a plain twin in its test that it must agree with.
export { fitNonNegativeLine, type LineFit } from './non-negative-line.ts';
export { pearson } from './correlation.ts';
export { significantCorrelation } from './significance.ts';
export { emptyEnvelope, lowest, withSample, type LowerEnvelope } from './lower-envelope.ts';
export {
  BASELINE_POINTS_MAX,
  BASELINE_POINTS_MIN,
  individualsChart,
  RUN_LENGTH,
  type IndividualsChart,
  type IndividualsLimits,
  type IndividualsPoint,
} from './individuals-chart.ts';
export { median } from './median.ts';
export { effectMeans, factored, logDensity, type EffectModel, type FactoredModel } from './random-effects.ts';
export { robustSlope, type RobustSlope } from './robust-slope.ts';
export { straightLine, type StraightLine } from './straight-line.ts';
export { outlook, OUTLOOK_POINTS_MIN, type Outlook } from './outlook.ts';
export { lifeRegression, type LifeRegression } from './life-regression.ts';
export { shareBelow } from './distributions.ts';
