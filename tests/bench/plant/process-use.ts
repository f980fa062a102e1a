// What a process uses, as the kernel counts it: processor time, also by thread, and resident memory. Linux.
import { readdirSync, readFileSync } from 'node:fs';

/** USER_HZ: 100 on every architecture that Node runs on. */
const TICKS_PER_SECOND = 100;
/** proc(5): fields after the name in parentheses, the state being the first. */
const USER_TICKS = 11;
const SYSTEM_TICKS = 12;

function cpuSecondsIn(stat: string): number {
  const fields = readFileSync(stat, 'utf8')
    .replace(/^.*\) /s, '')
    .split(' ');
  return (Number(fields[USER_TICKS]) + Number(fields[SYSTEM_TICKS])) / TICKS_PER_SECOND;
}

/** User and system time of all its threads since it began. */
export function cpuSecondsOf(pid: number): number {
  return cpuSecondsIn(`/proc/${pid}/stat`);
}

/** By thread, in the order in which they were started; the first is the main one. */
export function threadSecondsOf(pid: number): readonly number[] {
  const threads = readdirSync(`/proc/${pid}/task`).map(Number);
  return threads.toSorted((a, b) => a - b).map((thread) => cpuSecondsIn(`/proc/${pid}/task/${thread}/stat`));
}

export function residentMbOf(pid: number): number {
  const kib = /^VmRSS:\s+(\d+) kB/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
  return Number(kib) / 1024;
}
