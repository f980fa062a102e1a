// The broker without anything of ours, in a process of its own: what the service is compared with in the same run.
import { fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Variant } from '../broker-server.ts';
import type { LoadIdentity } from '../mqtt-load.ts';

export interface BareBroker {
  readonly pid: number;
  readonly port: number;
  /** It takes any name and any secret. */
  sensors(count: number): readonly LoadIdentity[];
  stop(): void;
}

export async function startBareBroker(): Promise<BareBroker> {
  const server = fork(fileURLToPath(new URL('../broker-server.js', import.meta.url)), ['bare' satisfies Variant]);
  const { port } = await new Promise<{ port: number }>((resolve) =>
    server.once('message', (message) => resolve(message as { port: number })),
  );
  return {
    pid: server.pid ?? 0,
    port,
    sensors: (count) =>
      Array.from({ length: count }, (_, index) => {
        const clientId = `sensor-${index + 1}`;
        return { clientId, username: clientId, password: 'x', topic: `counterpoise/v1/bench/in/${clientId}/summary` };
      }),
    stop: () => server.disconnect(),
  };
}
