// For machines: alive, ready, and counts in the Prometheus text format; the counts for loopback or with a token only.
import { monitorEventLoopDelay } from 'node:perf_hooks';
import type { FastifyRequest } from 'fastify';
import type { IntakeView } from '../../shared/views.ts';
import type { App, PartReady, Parts } from './app.ts';
import { bearerIs } from './bearer.ts';
import type { Feed } from './feed.ts';
import { HttpProblem } from './problems.ts';

export interface HealthParts extends Pick<Parts, 'plant'> {
  readonly feed: Feed;
  readonly ready: () => Promise<readonly PartReady[]>;
  readonly moreMetrics: () => readonly Metric[];
  readonly metricsToken: string | undefined;
}

export interface Metric {
  readonly name: string;
  readonly help: string;
  readonly kind: 'counter' | 'gauge';
  readonly value: number;
}

const READY_WITHIN_MS = 2000;
const NANOSECONDS_A_SECOND = 1e9;
/** What is measured is the time between two looks, which includes the time between two looks of an idle thread. */
const LOOK_MS = 10;
const LOOK_NS = LOOK_MS * 1e6;

export function addHealthRoutes(app: App, parts: HealthParts): void {
  const answered = new Map<string, number>();
  const delay = monitorEventLoopDelay({ resolution: LOOK_MS });
  delay.enable();
  app.addHook('onClose', () => void delay.disable());
  app.addHook('onResponse', async (_request, reply) => {
    const kind = `${Math.floor(reply.statusCode / 100)}xx`;
    answered.set(kind, (answered.get(kind) ?? 0) + 1);
  });
  // Says only that this thread answers; whether the rest does is the next route's business.
  app.get('/healthz', { schema: { hide: true } }, () => ({ alive: true }));
  app.get('/readyz', { schema: { hide: true } }, async (_request, reply) => {
    const asked = await inTime(parts.ready());
    const ready = asked.every((part) => part.ready);
    const amiss = asked.flatMap((part) => part.amiss ?? (part.ready ? [] : `not ready: ${part.part}`));
    return reply.code(ready ? 200 : 503).send(amiss.length === 0 ? { ready } : { ready, amiss });
  });
  app.get('/metrics', { schema: { hide: true } }, async (request, reply) => {
    if (!maySeeCounts(request, parts.metricsToken)) throw new HttpProblem('not-found');
    const { journal, rejectsOpen, windows } = await parts.plant.intake();
    const lines = [
      ...answeredLines(answered),
      ...linesOf(countsOf(parts.feed)),
      ...linesOf(processMetrics(delay.percentile(99))),
      ...linesOf([
        gauge('counterpoise_journal_position', 'Inputs in the journal.', journal.position),
        gauge('counterpoise_rejected_open', 'Rejected messages that nobody has dealt with.', rejectsOpen),
        ...windowMetrics(windows),
        ...parts.moreMetrics(),
      ]),
    ];
    delay.reset();
    return reply.type('text/plain; version=0.0.4; charset=utf-8').send(`${lines.join('\n')}\n`);
  });
}

async function inTime(asked: Promise<readonly PartReady[]>): Promise<readonly PartReady[]> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<readonly PartReady[]>((resolve) => {
    timer = setTimeout(
      () => resolve([{ part: 'plant', ready: false, amiss: 'the plant does not answer in time' }]),
      READY_WITHIN_MS,
    );
  });
  try {
    return await Promise.race([asked, late]);
  } catch {
    return [{ part: 'plant', ready: false, amiss: 'the plant does not answer' }];
  } finally {
    clearTimeout(timer);
  }
}

/** With a token set, only with the token; else from this very machine and not through a proxy on it. */
function maySeeCounts(request: FastifyRequest, token: string | undefined): boolean {
  if (token !== undefined) return bearerIs(request, token);
  const forwarded = request.headers['x-forwarded-for'] ?? request.headers['forwarded'];
  const address = request.socket.remoteAddress ?? '';
  return forwarded === undefined && (address === '::1' || /^(?:::ffff:)?127\./.test(address));
}

function gauge(name: string, help: string, value: number): Metric {
  return { name, help, kind: 'gauge', value };
}

function counter(name: string, help: string, value: number): Metric {
  return { name, help, kind: 'counter', value };
}

function countsOf({ counts }: Feed): readonly Metric[] {
  return [
    gauge('counterpoise_feed_connections', 'Dashboards on the feed.', counts.connections),
    counter('counterpoise_feed_frames_total', 'Change frames spread.', counts.frames),
    counter('counterpoise_feed_snapshots_total', 'Snapshots taken for the feed.', counts.snapshots),
    counter('counterpoise_feed_behind_total', 'Times a dashboard could not keep up.', counts.skipped),
    counter('counterpoise_feed_let_go_total', 'Dashboards that no longer answered.', counts.letGo),
  ];
}

function processMetrics(delayNs: number): readonly Metric[] {
  const { rss } = process.memoryUsage();
  return [
    gauge('process_resident_memory_bytes', 'Resident memory.', rss),
    counter('process_uptime_seconds_total', 'Time since the start.', Math.round(process.uptime())),
    gauge(
      'counterpoise_event_loop_delay_seconds',
      'Delay of the main thread since the last look, 99th percentile.',
      Number.isFinite(delayNs) ? Math.max(0, delayNs - LOOK_NS) / NANOSECONDS_A_SECOND : 0,
    ),
  ];
}

/** None while no raw window ever came. */
function windowMetrics(room: IntakeView['windows']): readonly Metric[] {
  if (room === undefined) return [];
  return [
    gauge('counterpoise_windows_kept', 'Raw windows whose samples are kept.', room.windows),
    gauge('counterpoise_windows_bytes', 'What these samples take.', room.bytes),
    gauge('counterpoise_windows_bytes_max', 'What they may take.', room.bytesMax),
    gauge('counterpoise_windows_pinned', 'Of them, those behind holds.', room.pinned),
    gauge('counterpoise_windows_waiting', 'Raw windows that are not analysed yet.', room.waiting),
    gauge('counterpoise_windows_over', '1 while those behind open holds alone take more.', room.isOver ? 1 : 0),
  ];
}

function linesOf(metrics: readonly Metric[]): readonly string[] {
  return metrics.flatMap(({ name, help, kind, value }) => [
    `# HELP ${name} ${help}`,
    `# TYPE ${name} ${kind}`,
    `${name} ${value}`,
  ]);
}

function answeredLines(answered: ReadonlyMap<string, number>): readonly string[] {
  const name = 'counterpoise_http_answers_total';
  const lines = [...answered].map(([kind, count]) => `${name}{status="${kind}"} ${count}`);
  return [`# HELP ${name} Answered requests by class of status.`, `# TYPE ${name} counter`, ...lines];
}
