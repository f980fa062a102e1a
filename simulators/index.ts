// The face of the simulators: an invented plant, its invented past, and its devices over real MQTT.
export { demoPlant, PLANT_ENGINEER, PLANT_ID, PLANT_NAME, PLANT_ZONE } from './plant.ts';
export type { DemoPlant, PlantDevice } from './plant.ts';
export { history, HISTORY_DAYS, HISTORY_INTERVAL_S } from './history.ts';
export type { HistoryOptions } from './history.ts';
export type { TimedMessage } from './envelopes.ts';
export { FAULT_KINDS } from './faults.ts';
export type { Fault, FaultKind } from './faults.ts';
export { startSimulation } from './simulation.ts';
export type { Simulation, SimulationOptions } from './simulation.ts';
export type { DeviceCounts } from './device-client.ts';
export { startSimulationThread } from './thread.ts';
export type { SimulationThread } from './thread.ts';
export { prngOf } from './prng.ts';
export { HARMLESS_TRIALS, TRIAL_KINDS, trialOf } from './trials/index.ts';
export type { Trial, TrialKind, TrialLabel } from './trials/index.ts';
export {
  aboutHold,
  accountsFor,
  BEARING_FACTOR,
  expectedSquare,
  factorOf,
  FAULT_FACTOR,
  isSubject,
  LONG_FAULTS,
  LONG_NON_FAULTS,
  LongScenario,
} from './scenarios/index.ts';
export type {
  About,
  AffectedLoad,
  LoadFact,
  LongFault,
  LongLabel,
  LongNonFault,
  NonFaultLabel,
  Range,
  Turning,
  WholeLoad,
} from './scenarios/index.ts';
