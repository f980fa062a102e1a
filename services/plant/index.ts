// The plant in its thread: one order of events, durable before it is acknowledged; and the client that talks to it.
export { PlantClient, BATCH_BYTES_MAX, BATCH_DELIVERIES_MAX, type PlantAnswer, type PlantEvents } from './client.ts';
export { clockOf, realPace, type ClockPace } from './clock.ts';
export { Desk, SNAPSHOT_EVERY_ENTRIES } from './desk.ts';
export { Packer, TopicNumbers, Unpacker, type Arriving } from './packets.ts';
export { Plant, type ActDone, type PlantParts, type RetryDone, type Told } from './plant.ts';
export type { HoldsWanted, PlantCalls, PlantSettings, RejectsWanted } from './protocol.ts';
export {
  LinePlayer,
  PLAYER_BATCH_LINES_MAX,
  PLAYER_REJECTED_REMEMBERED_MAX,
  PLAYER_TICKS_IN_A_GAP_MAX,
  type PlayerSettings,
} from './line-player.ts';
export { readLine, type LineFault, type ReadLine } from './read-line.ts';
