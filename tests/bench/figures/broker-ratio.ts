// What the broker alone leaves of bare aedes' rate: what stands around it, without intake, journal and rules.
import { measureBrokerRatios } from '../broker-ratio.ts';
import type { Bench } from '../figure.ts';

export const brokerRatio: Bench = {
  figures: [
    {
      name: 'broker.ratio_to_bare_broker',
      unit: '1',
      better: 'higher',
      baseline: null,
      method:
        'QoS 1, 50 clients with 20 in flight. Our broker (admission, limits, acknowledging) that is told at the end of each ' +
        'turn of the loop that everything is durable, and a bare aedes, in turns; medians of messages/s.',
    },
  ],
  run: async ({ repeats, seconds }) => {
    const ratios = await measureBrokerRatios(repeats, seconds);
    const later = ratios.find(({ variant }) => variant === 'ours-later');
    return {
      values: { 'broker.ratio_to_bare_broker': later?.ratio ?? Number.NaN },
      details: ratios.map(
        ({ variant, perSecond, ratio, cpuRatio, p50, p99 }) =>
          `${variant}: ${Math.round(perSecond)}/s, ratio ${ratio.toFixed(2)}, by processor time ${cpuRatio.toFixed(2)}, ` +
          `p50 ${p50.toFixed(1)} ms, p99 ${p99.toFixed(1)} ms`,
      ),
    };
  },
};
