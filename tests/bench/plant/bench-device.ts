// Single devices of the bench on MQTT, each with its own credential, and the messages that they send.
import { connectAsync, type MqttClient } from 'mqtt';
import { deviceSource } from '../../../shared/envelope.ts';
import { MESSAGE_TYPES } from '../../../shared/messages/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { inTopic, type InChannel } from '../../../shared/topics.ts';
import { BENCH_PLANT } from './bench-plant.ts';
import type { BenchService } from './bench-service.ts';

export interface BenchMqtt {
  readonly device: string;
  /** Told of everything that comes, with the time at which it came. */
  listen(filter: string, take: (topic: string, payload: Buffer, atMs: number) => void): Promise<void>;
  /** Returns when it was sent. */
  send(channel: InChannel, data: Record<string, unknown>): number;
  /** Resolves with the time at which it was acknowledged, by the machine's clock, ms UTC. */
  sendAcknowledged(channel: InChannel, data: Record<string, unknown>): Promise<number>;
  close(): Promise<void>;
}

let made = 0;

export async function connectBenchDevice(service: BenchService, device: string): Promise<BenchMqtt> {
  const client: MqttClient = await connectAsync(`mqtt://127.0.0.1:${service.port}`, {
    clientId: device,
    username: device,
    password: service.secrets[device] ?? '',
    reconnectPeriod: 0,
  });
  return {
    device,
    listen: async (filter, take) => {
      client.on('message', (topic, payload) => take(topic, payload, performance.now()));
      const [granted] = await client.subscribeAsync(filter, { qos: 1 });
      if (granted === undefined || granted.qos === 128) throw new Error(`${device} may not read ${filter}`);
    },
    send: (channel, data) => {
      const payload = payloadOf(device, channel, data);
      const sentAtMs = performance.now();
      client.publish(inTopic(BENCH_PLANT, device, channel), payload, { qos: 1 });
      return sentAtMs;
    },
    sendAcknowledged: async (channel, data) => {
      await client.publishAsync(inTopic(BENCH_PLANT, device, channel), payloadOf(device, channel, data), { qos: 1 });
      return performance.timeOrigin + performance.now();
    },
    close: () => client.endAsync(),
  };
}

function payloadOf(device: string, channel: InChannel, data: Record<string, unknown>): string {
  made += 1;
  return JSON.stringify({
    specversion: '1.0',
    id: `bench-${made}-${Date.now()}`,
    source: deviceSource(BENCH_PLANT, device),
    type: MESSAGE_TYPES[channel],
    time: rfc3339Of(Date.now()),
    data,
  });
}
