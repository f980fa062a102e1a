// Raw windows made into numbers in a thread of its own, so that neither acknowledgements nor screens ever wait for it.
export { openAnalysis, type Analysis, type AnalysisCounts, type AnalysisEvents } from './client.ts';
export { keptAcceleration, type KeptAcceleration } from './kept-samples.ts';
export { ANALYSIS_LIMITS, THREAD_NICENESS, type AnalysisLimits } from './limits.ts';
