// What is read out of a trace: tasks of one thread of one page, nothing counted twice.
import { expect, test } from 'vitest';
import { busyPercent, eventsIn, longestOf, mainThreadTasks, mostCpuMs, type TraceEvent } from './trace.ts';

const PAGE = 7;
const MAIN = 70;

function task(ts: number, dur: number, more: Partial<TraceEvent> = {}): TraceEvent {
  return { name: 'RunTask', ph: 'X', pid: PAGE, tid: MAIN, ts, dur, tdur: dur / 2, ...more };
}

const NAMES: readonly TraceEvent[] = [
  {
    ...task(0, 0),
    name: 'TracingStartedInBrowser',
    ph: 'I',
    pid: 1,
    args: { data: { frames: [{ processId: 3 }, { isOutermostMainFrame: true, processId: PAGE }] } },
  },
  { ...task(0, 0), name: 'thread_name', ph: 'M', pid: 3, tid: 30, args: { name: 'CrRendererMain' } },
  { ...task(0, 0), name: 'thread_name', ph: 'M', tid: 71, args: { name: 'Compositor' } },
  { ...task(0, 0), name: 'thread_name', ph: 'M', args: { name: 'CrRendererMain' } },
];

test('only tasks of the main thread of the page count, in their order', () => {
  const events = [
    ...NAMES,
    task(9000, 4000),
    task(1000, 2000),
    task(1000, 50_000, { tid: 71 }),
    task(0, 9, { pid: 3 }),
  ];
  const tasks = mainThreadTasks(events);
  expect(tasks.map(({ startMs, durationMs, cpuMs }) => [startMs, durationMs, cpuMs])).toEqual([
    [1, 2, 1],
    [9, 4, 2],
  ]);
  expect(busyPercent(tasks, 60)).toBeCloseTo(10, 10);
  expect(longestOf(tasks)?.durationMs).toBe(4);
  expect(mostCpuMs(tasks)).toBe(2);
});

test('what runs within a task is part of it, outermost once under each name', () => {
  const within = [
    task(1000, 30_000),
    task(2000, 20_000, { name: 'FunctionCall' }),
    task(3000, 5000, { name: 'FunctionCall' }),
    task(4000, 1000),
    task(23_000, 6000, { name: 'Layout' }),
    task(30_000, 500, { name: 'FunctionCall' }),
  ];
  const tasks = mainThreadTasks([...NAMES, ...within]);
  expect(tasks).toHaveLength(1);
  expect(tasks[0]?.parts).toEqual([
    { name: 'FunctionCall', ms: 20.5 },
    { name: 'Layout', ms: 6 },
    { name: 'RunTask', ms: 1 },
  ]);
});

test('nothing traced is nothing busy', () => {
  expect(mainThreadTasks(NAMES)).toEqual([]);
  expect(busyPercent([], 1000)).toBe(0);
  expect(longestOf([])).toBeUndefined();
  expect(mostCpuMs([])).toBe(0);
});

test('a trace that names no main thread is told, not taken for an idle page', () => {
  expect(() => mainThreadTasks([task(0, 1)])).toThrow('main one');
});

test('a trace is read as Chromium writes it', () => {
  expect(eventsIn(JSON.stringify({ traceEvents: NAMES, metadata: {} }))).toHaveLength(NAMES.length);
});
