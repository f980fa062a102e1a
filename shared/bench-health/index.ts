// The face of bench health: whether a bench still measures what it claims, from tests with masses and from its own part.
export { evaluateBenchTest, type BenchTestOutcome } from './bench-test-outcome.ts';
export { evaluateMinimumAchievable } from './minimum-achievable.ts';
export { evaluateReductionRatio } from './reduction-ratio.ts';
export { ownPartDrift, type OwnPartDrift, type OwnPartPoint } from './own-part-drift.ts';
