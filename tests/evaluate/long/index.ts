// The evaluation over long scenarios: judged seed by seed, then figures and tables over all of them.
export { longFiguresOf } from './figures.ts';
export { longTablesOf } from './tables.ts';
export { judgeSeed, type ScenarioVerdict } from './verdict.ts';
