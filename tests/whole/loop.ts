// The loop from bench to release, the same for every way a device may reach the plant; run by the tests beside it.
import { expect } from 'vitest';
import { inTopic, outTopic } from '../../shared/topics.ts';
import { foreignPublish, foreignSubscribe } from '../environment/mosquitto-clients.ts';
import { BUILD, load, result } from './plant.ts';
import { PLANT, sealed } from './stand.ts';

export interface Reach {
  readonly port: number;
  /** Name and password on the broker; undefined where anybody may come in. */
  readonly secretOf: (device: string) => string | undefined;
}

export const LOOP_DEVICES = [
  { device: 'bench-1', kind: 'bench' },
  { device: 'machine-1', kind: 'machine', serves: ['S-1'] },
  { device: 'lamp-1', kind: 'reader', serves: ['*'] },
] as const;

interface HoldMessage {
  readonly data: {
    readonly holds: readonly {
      readonly reason: string;
      readonly sentence: string;
      readonly cautions: readonly string[];
    }[];
  };
}

/** Exceeding result → held → loaded anyway → spindle held → passing result → both gone, seen by a retained subscriber. */
export async function expectTheLoop({ port, secretOf }: Reach): Promise<void> {
  const login = (device: string) => {
    const password = secretOf(device);
    return { port, clientId: device, ...(password === undefined ? {} : { user: device, password }) };
  };
  const send = async (device: string, channel: 'build' | 'result' | 'load', data: unknown): Promise<void> => {
    const { code, output } = await foreignPublish({
      ...login(device),
      topic: inTopic(PLANT, device, channel),
      payload: sealed(device, channel, data),
    });
    expect(`${code} ${output}`).toMatch(/^0 /);
  };
  const assemblyTopic = outTopic(PLANT, 'assembly', 'A-1', 'hold');
  const spindleTopic = outTopic(PLANT, 'spindle', 'S-1', 'hold');
  const lamp = await foreignSubscribe({ ...login('lamp-1'), topics: [assemblyTopic, spindleTopic] });

  await send('bench-1', 'build', BUILD);
  await send('bench-1', 'result', result(6));
  const held = await lamp.next((message) => message.topic === assemblyTopic && message.payload !== '');
  const [hold] = (JSON.parse(held.payload) as HoldMessage).data.holds;
  expect(hold?.reason).toBe('residual-exceeds');
  expect(hold?.sentence).toMatch(
    /^A-1 is on hold: its residual unbalance is 3\.\d times what is permissible at 18,000 rpm\. /,
  );
  expect(hold?.cautions.join(' ')).toMatch(/Advisory only/);

  await send('machine-1', 'load', load(18_000));
  const pairing = await lamp.next((message) => message.topic === spindleTopic && message.payload !== '');
  expect((JSON.parse(pairing.payload) as HoldMessage).data.holds[0]?.reason).toBe('held-assembly-loaded');

  await lamp.stop();
  const late = await foreignSubscribe({ ...login('lamp-1'), topics: [assemblyTopic, spindleTopic] });
  await late.next((message) => message.topic === assemblyTopic && message.retain);

  await send('bench-1', 'result', result(0.4, { stage: 'after-correction' }));
  await late.next((message) => message.topic === assemblyTopic && message.payload === '');
  await late.next((message) => message.topic === spindleTopic && message.payload === '');
  await late.stop();
}
