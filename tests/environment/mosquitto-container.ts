// mosquitto in a container, started through testcontainers.
import { GenericContainer, Wait } from 'testcontainers';
import type { ContainerEngine } from './containers.ts';

const PORT_INSIDE = 1883;
const SETTINGS = `listener ${PORT_INSIDE} 0.0.0.0\nallow_anonymous true\nlog_dest stderr\n`;
const SETTINGS_FILE = '/etc/mosquitto/counterpoise-test.conf';

export interface MosquittoContainer {
  readonly host: string;
  readonly port: number;
  readonly url: string;
  stop(): Promise<void>;
}

export async function startMosquittoContainer(engine: ContainerEngine): Promise<MosquittoContainer> {
  const container = await new GenericContainer(engine.mosquittoImage)
    .withCommand(['mosquitto', '-c', SETTINGS_FILE])
    .withCopyContentToContainer([{ content: SETTINGS, target: SETTINGS_FILE }])
    .withExposedPorts(PORT_INSIDE)
    .withUlimits(engine.ulimits)
    .withLabels(engine.labels)
    .withWaitStrategy(Wait.forLogMessage(/mosquitto version \S+ running/))
    .start();
  const host = container.getHost();
  const port = container.getMappedPort(PORT_INSIDE);
  return {
    host,
    port,
    url: `mqtt://${host}:${port}`,
    stop: async () => void (await container.stop()),
  };
}
