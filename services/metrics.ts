// Counts of the parts behind the gateway, for whoever watches the service.
import type { Alerts } from './alerts/index.ts';
import type { AnalysisCounts } from './analysis/index.ts';
import type { Metric } from './gateway/index.ts';
import type { Link } from './link.ts';
import type { PlantClient } from './plant/index.ts';

export function serviceMetrics(
  plant: Pick<PlantClient, 'counts' | 'waiting'>,
  link: Pick<Link, 'devices' | 'brokerConnected'> | undefined,
  alerts: Pick<Alerts, 'pending'> | undefined,
  isFull: boolean,
  windows: AnalysisCounts | undefined,
): readonly Metric[] {
  const { batches, deliveries } = plant.counts;
  return [
    metric('gauge', 'devices_connected', 'Devices at the embedded broker.', link?.devices().length ?? 0),
    metric('gauge', 'deliveries_waiting', 'Messages that are not durable yet.', plant.waiting),
    metric('counter', 'deliveries_total', 'Messages made durable since the start.', deliveries),
    metric('counter', 'commits_total', 'Commits that made them durable.', batches),
    metric('gauge', 'notices_pending', 'Notices that wait or are under way.', alerts?.pending() ?? 0),
    metric('gauge', 'disk_full', '1 while a commit waits for room on the disk.', isFull ? 1 : 0),
    metric('gauge', 'windows_queued', 'Of those that wait, the raw windows in the queue.', windows?.waiting ?? 0),
    metric('counter', 'windows_analysed_total', 'Raw windows analysed since the start.', windows?.analysed ?? 0),
    metric(
      'counter',
      'windows_skipped_total',
      'Raw windows skipped since the start: too many came.',
      windows?.skipped ?? 0,
    ),
    metric(
      'counter',
      'windows_failed_total',
      'Raw windows whose analysis failed since the start.',
      windows?.failed ?? 0,
    ),
    ...(link?.brokerConnected === undefined
      ? []
      : [metric('gauge', 'broker_connected', '1 while the external broker is there.', link.brokerConnected ? 1 : 0)]),
  ];
}

function metric(kind: Metric['kind'], name: string, help: string, value: number): Metric {
  return { name: `counterpoise_${name}`, help, kind, value };
}
