// What a trace of Chromium says of the tasks on a page's main thread: how long each kept it, and what it did meanwhile.

export interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  /** Microseconds by a clock of the trace's own. */
  readonly ts: number;
  readonly dur?: number;
  /** Microseconds of processor time. */
  readonly tdur?: number;
  readonly args?: unknown;
}

export interface MainTask {
  readonly startMs: number;
  readonly durationMs: number;
  /** Less than its duration where other programs had the processor meanwhile. */
  readonly cpuMs: number;
  /** By name of what ran within it, longest first: what Chromium calls each. */
  readonly parts: readonly { readonly name: string; readonly ms: number }[];
}

const TASK = 'RunTask';
const MAIN_THREAD = 'CrRendererMain';
const PARTS_MAX = 4;

/** Trace categories that this needs. */
export const TRACED = ['disabled-by-default-devtools.timeline', 'devtools.timeline'];

export function eventsIn(trace: string): readonly TraceEvent[] {
  return (JSON.parse(trace) as { traceEvents: TraceEvent[] }).traceEvents;
}

/** The tasks of the main thread of the page that was traced, in their order; one within another counts as part of it. */
export function mainThreadTasks(events: readonly TraceEvent[]): readonly MainTask[] {
  const pid = tracedProcess(events);
  const tid = events.find((event) => event.pid === pid && threadName(event) === MAIN_THREAD)?.tid;
  if (tid === undefined) throw new Error('the trace does not say which thread is the main one of the page');
  const whole = events
    .filter((event) => event.pid === pid && event.tid === tid && event.ph === 'X')
    .toSorted((a, b) => a.ts - b.ts || (b.dur ?? 0) - (a.dur ?? 0));
  const tasks: { event: TraceEvent; within: TraceEvent[] }[] = [];
  for (const event of whole) {
    const last = tasks.at(-1);
    if (last !== undefined && event.ts < endOf(last.event)) last.within.push(event);
    else if (event.name === TASK) tasks.push({ event, within: [] });
  }
  return tasks.map(({ event, within }) => ({
    startMs: event.ts / 1000,
    durationMs: (event.dur ?? 0) / 1000,
    cpuMs: (event.tdur ?? 0) / 1000,
    parts: partsOf(within),
  }));
}

/** The share of the time in which the thread was busy, in per cent. */
export function busyPercent(tasks: readonly MainTask[], overMs: number): number {
  return (100 * tasks.reduce((sum, { durationMs }) => sum + durationMs, 0)) / overMs;
}

export function longestOf(tasks: readonly MainTask[]): MainTask | undefined {
  return tasks.toSorted((a, b) => b.durationMs - a.durationMs)[0];
}

/** The most that one of them works. */
export function mostCpuMs(tasks: readonly MainTask[]): number {
  return tasks.reduce((most, { cpuMs }) => Math.max(most, cpuMs), 0);
}

const endOf = ({ ts, dur = 0 }: TraceEvent): number => ts + dur;

/** Outermost events of one name only, so that nothing is counted twice under it. */
function partsOf(within: readonly TraceEvent[]): MainTask['parts'] {
  const sums = new Map<string, { us: number; endsAt: number }>();
  for (const event of within) {
    const { us, endsAt } = sums.get(event.name) ?? { us: 0, endsAt: 0 };
    if (event.ts < endsAt) continue;
    sums.set(event.name, { us: us + (event.dur ?? 0), endsAt: endOf(event) });
  }
  return [...sums]
    .map(([name, { us }]) => ({ name, ms: us / 1000 }))
    .toSorted((a, b) => b.ms - a.ms)
    .slice(0, PARTS_MAX);
}

function threadName({ name, args }: TraceEvent): string | undefined {
  return name === 'thread_name' ? (args as { name?: string }).name : undefined;
}

/** The renderer of the outermost frame of the page. */
function tracedProcess(events: readonly TraceEvent[]): number | undefined {
  interface Started {
    readonly data?: { readonly frames?: readonly { isOutermostMainFrame?: boolean; processId?: number }[] };
  }
  const started = events.find(({ name }) => name === 'TracingStartedInBrowser')?.args as Started | undefined;
  return started?.data?.frames?.find(({ isOutermostMainFrame }) => isOutermostMainFrame === true)?.processId;
}
