// Long labelled scenarios: weeks and months of an invented plant drawn by seed, with what was wrong in them, load by load.
export { LongScenario } from './long-scenario.ts';
export { BEARING_FACTOR, FAULT_FACTOR, type Range } from './ranges.ts';
export { aboutHold } from './people.ts';
export {
  accountsFor,
  expectedSquare,
  factorOf,
  isSubject,
  LONG_FAULTS,
  LONG_NON_FAULTS,
  type About,
  type AffectedLoad,
  type LoadFact,
  type LongFault,
  type LongLabel,
  type LongNonFault,
  type NonFaultLabel,
  type Turning,
  type WholeLoad,
} from './fault-kinds.ts';
