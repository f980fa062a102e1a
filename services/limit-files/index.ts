// Limits, zones and bearings from a file: read with every fault by line and field, and merged into what was declared.
export { readRuleFile, type RuleFile } from './read-rules.ts';
export { readLimitFile, type LimitFile, type RowOf } from './read.ts';
export { faultsOfFile, mergeLimits, type Merged } from './merge.ts';
