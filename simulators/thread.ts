// The simulation in a worker thread, so that twenty-five busy devices do not share a thread with the service they talk to.
import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import type { Fault } from './faults.ts';
import type { FromSimulation, ToSimulation } from './run.ts';
import type { SimulationOptions } from './simulation.ts';

export interface SimulationThread {
  readonly labels: readonly Fault[];
  /** Resolves when every device has said goodbye and the thread has ended. */
  stop(): Promise<void>;
}

/** Runs from the built program only: a worker thread reads JavaScript. Rejects when the thread cannot start. */
export async function startSimulationThread(options: SimulationOptions): Promise<SimulationThread> {
  const { onTrouble, ...plain } = options;
  const worker = new Worker(new URL('./run.js', import.meta.url), { workerData: plain });
  const labels = await new Promise<readonly Fault[]>((resolve, reject) => {
    worker.once('error', reject);
    worker.on('message', (message: FromSimulation) => {
      if (message.kind === 'started') resolve(message.labels);
      if (message.kind === 'trouble') onTrouble?.(message.device, message.words);
    });
  });
  return {
    labels,
    stop: async () => {
      const ended = once(worker, 'exit');
      worker.postMessage({ kind: 'stop' } satisfies ToSimulation);
      await ended;
    },
  };
}
