// How soon a service that was killed is ready again, with a million readings in its journal.
import { openLoadProcess } from '../mqtt-load-process.ts';
import { listed, median, type Bench } from '../figure.ts';
import { summaryTemplate } from '../plant/bench-plant.ts';
import { prepareData, startService } from '../plant/bench-service.ts';

const SENSORS = 50;
const READINGS = 1_000_000;
const FILLED_WITHIN_MS = 300_000;

export const startTime: Bench = {
  figures: [
    {
      name: 'start.seconds_1m',
      unit: 's',
      better: 'lower',
      baseline: null,
      method:
        `${READINGS} readings over MQTT into the journal, then SIGKILL; from the command to the listening service, the ` +
        'start of Node included. Each repeat kills it again. A smaller journal than the goal of 10⁷ entries in 2 s speaks of.',
    },
  ],
  run: async ({ repeats, say }) => {
    const prepared = await prepareData(SENSORS);
    let service = await startService(prepared);
    const clients = service.sensors(SENSORS);
    const templates = clients.map((_, index) => summaryTemplate(index + 1, 'fill'));
    const messagesPerClient = READINGS / SENSORS;
    const load = await openLoadProcess({
      port: service.port,
      window: 20,
      clients,
      payload: { templates },
      messagesPerClient,
    });
    await load.go();
    if (!(await load.drained(FILLED_WITHIN_MS))) throw new Error('the journal was not filled in time');
    await load.close();
    const seconds: number[] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      await service.kill();
      service = await startService(prepared);
      seconds.push(service.startedInS);
      say(`start ${repeat + 1} of ${repeats}: ${service.startedInS.toFixed(2)} s`);
    }
    await service.stop();
    prepared.remove();
    return { values: { 'start.seconds_1m': median(seconds) }, details: [`seconds ${listed(seconds, 2)}`] };
  },
};
