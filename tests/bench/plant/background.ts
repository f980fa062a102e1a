// The load that goes on behind a measurement: sensors at a given rate, each with its own credential, from another process.
import { openLoadProcess, type LoadProcess } from '../mqtt-load-process.ts';
import type { LoadIdentity } from '../mqtt-load.ts';
import { summaryTemplate } from './bench-plant.ts';

export const BACKGROUND_PER_SECOND = 2_000;
export const BACKGROUND_SENSORS = 50;

interface Background {
  readonly sensors: number;
  readonly ratePerSecond: number;
  readonly window: number;
}

const USUAL: Background = { sensors: BACKGROUND_SENSORS, ratePerSecond: BACKGROUND_PER_SECOND, window: 200 };

/** Whatever the sensors may connect to. */
export interface Sink {
  readonly port: number;
  sensors(count: number): readonly LoadIdentity[];
}

/** Resolves when all are connected and sending. */
export async function startBackground(sink: Sink, wanted: Background = USUAL): Promise<LoadProcess> {
  const { sensors, ratePerSecond, window } = wanted;
  const clients = sink.sensors(sensors);
  const boot = `b${Date.now().toString(36)}`;
  const templates = clients.map((_, index) => summaryTemplate(index + 1, boot));
  const load = await openLoadProcess({
    port: sink.port,
    window,
    ratePerSecond,
    clients,
    payload: { templates },
  });
  await load.go();
  return load;
}

/** Nothing may have been lost behind a measurement. */
export async function endBackground(load: LoadProcess): Promise<void> {
  const { lost, outOfOrder } = await load.report();
  await load.close();
  if (lost + outOfOrder > 0) throw new Error(`${lost} connections lost, ${outOfOrder} acknowledgements out of order`);
}
