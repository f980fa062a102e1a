// The kinds of message that devices send, each with its type name, its channel and its one schema.
import type * as z from 'zod';
import type { InChannel } from '../topics.ts';
import { BalanceResult, Build, Proof } from './balance.ts';
import { BenchTest } from './bench-test.ts';
import { Correction } from './correction.ts';
import { Birth, DeviceState, GateQuestion } from './device.ts';
import { Load, MachineState, Summary, ToolLife, Wave } from './spindle.ts';

export * from './balance.ts';
export * from './bench-test.ts';
export * from './correction.ts';
export * from './device.ts';
export * from './spindle.ts';

/** Channel → CloudEvents type. A changed meaning is a new number; old numbers stay accepted for twelve months. */
export const MESSAGE_TYPES = {
  birth: 'counterpoise.device.birth.v1',
  state: 'counterpoise.device.state.v1',
  build: 'counterpoise.assembly.build.v1',
  result: 'counterpoise.balance.result.v1',
  correction: 'counterpoise.assembly.correction.v1',
  proof: 'counterpoise.bench.proof.v1',
  test: 'counterpoise.bench.test.v1',
  summary: 'counterpoise.vibration.summary.v1',
  wave: 'counterpoise.vibration.wave.v1',
  machine: 'counterpoise.machine.state.v1',
  load: 'counterpoise.spindle.load.v1',
  life: 'counterpoise.tool.life.v1',
  query: 'counterpoise.gate.question.v1',
} as const satisfies Record<InChannel, string>;

export const MESSAGE_SCHEMAS = {
  birth: Birth,
  state: DeviceState,
  build: Build,
  result: BalanceResult,
  correction: Correction,
  proof: Proof,
  test: BenchTest,
  summary: Summary,
  wave: Wave,
  machine: MachineState,
  load: Load,
  life: ToolLife,
  query: GateQuestion,
} as const satisfies Record<InChannel, z.ZodType>;

export interface MessageData {
  birth: Birth;
  state: DeviceState;
  build: Build;
  result: BalanceResult;
  correction: Correction;
  proof: Proof;
  test: BenchTest;
  summary: Summary;
  wave: Wave;
  machine: MachineState;
  load: Load;
  life: ToolLife;
  query: GateQuestion;
}

/** What may come often and is recognised as a repeat by (source, bootid, sequence); all else by (source, id), for ever. */
export const FREQUENT_CHANNELS = ['summary', 'machine', 'wave'] as const satisfies readonly InChannel[];

export function isFrequent(channel: InChannel): boolean {
  return (FREQUENT_CHANNELS as readonly InChannel[]).includes(channel);
}

/** Which channels a kind of device may use; a message elsewhere is rejected with a receipt, not disconnected. */
export const CHANNELS_OF_KIND: Record<'bench' | 'sensor' | 'machine' | 'reader', readonly InChannel[]> = {
  bench: ['birth', 'state', 'build', 'result', 'correction', 'proof', 'test', 'query'],
  sensor: ['birth', 'state', 'summary', 'wave'],
  machine: ['birth', 'state', 'machine', 'load', 'life', 'query', 'summary'],
  reader: ['birth', 'state', 'query'],
};
