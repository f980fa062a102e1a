// What a machine control says of one load: the question before it, clamped, turning, cutting or not, stopped, out.
import { MILLISECONDS_A_SECOND, type Instant } from '../shared/time.ts';
import type { PlannedEvent } from './events.ts';
import { actualSpeedRpm, programmedSpeedAt, runsFrom, runsUntil, type LoadPlan } from './shift.ts';

/** past: what a journal of months keeps. live: also questions at the gate and every change between air and cut. */
export type Detail = 'past' | 'live';

const ASKS_BEFORE_MS = 2 * MILLISECONDS_A_SECOND;
const STANDS_AFTER_MS = 3 * MILLISECONDS_A_SECOND;

export interface Window {
  readonly from: Instant;
  readonly until: Instant;
}

export function within(window: Window, time: Instant): boolean {
  return time >= window.from && time < window.until;
}

/** Everything the control says of this load within the window. */
export function loadEvents(load: LoadPlan, window: Window, detail: Detail): PlannedEvent[] {
  if (load.unloadAt < window.from || load.loadAt - ASKS_BEFORE_MS >= window.until) return [];
  const events = [clamped(load, load.loadAt), ...running(load, detail), stopped(load), unclamped(load)];
  if (detail === 'live') events.push(question(load), ...cutChanges(load, window));
  return events.filter((event) => within(window, event.time));
}

/** The control reports what sits in its spindle: at the load itself, or again when it has just started. */
export function clamped(load: LoadPlan, time: Instant): PlannedEvent {
  return {
    ...told(load, time),
    channel: 'load',
    data: {
      spindleId: load.spindle.declared.spindleId,
      action: 'load',
      assemblyId: load.assembly.assemblyId,
      buildId: load.buildId,
      programmedSpeedRpm: load.programmedSpeedRpm,
    },
  };
}

export function unclamped(load: LoadPlan, time: Instant = load.unloadAt): PlannedEvent {
  return {
    ...told(load, time),
    channel: 'load',
    data: {
      spindleId: load.spindle.declared.spindleId,
      action: 'unload',
      assemblyId: load.assembly.assemblyId,
      buildId: load.buildId,
    },
  };
}

export function turning(load: LoadPlan, time: Instant, cutting?: boolean): PlannedEvent {
  return {
    ...told(load, time),
    channel: 'machine',
    data: {
      spindleId: load.spindle.declared.spindleId,
      programmedSpeedRpm: programmedSpeedAt(load, time),
      actualSpeedRpm: load.stands ? 0 : actualSpeedRpm(load, time),
      overridePercent: load.overridePercent,
      ...(cutting === undefined ? {} : { cutting }),
    },
  };
}

function told(load: LoadPlan, time: Instant): { time: Instant; device: string; subject: string } {
  return { time, device: load.spindle.machineDevice, subject: `spindle/${load.spindle.declared.spindleId}` };
}

function question(load: LoadPlan): PlannedEvent {
  return {
    ...told(load, load.loadAt - ASKS_BEFORE_MS),
    channel: 'query',
    data: {
      spindleId: load.spindle.declared.spindleId,
      assemblyId: load.assembly.assemblyId,
      speedRpm: load.programmedSpeedRpm,
    },
  };
}

function running(load: LoadPlan, detail: Detail): PlannedEvent[] {
  const time = load.stands ? load.loadAt + STANDS_AFTER_MS : runsFrom(load);
  const steps = (load.speedSteps ?? []).map((step) => turning(load, step.at));
  return [turning(load, time, detail === 'live' ? false : undefined), ...steps];
}

/** No program any more, so no speed of an old one is left standing. */
function stopped(load: LoadPlan): PlannedEvent {
  const spindleId = load.spindle.declared.spindleId;
  return {
    ...told(load, runsUntil(load)),
    channel: 'machine',
    data: {
      spindleId,
      programmedSpeedRpm: 0,
      actualSpeedRpm: 0,
      overridePercent: load.overridePercent,
      cutting: false,
    },
  };
}

function cutChanges(load: LoadPlan, window: Window): PlannedEvent[] {
  if (load.stands) return [];
  const events: PlannedEvent[] = [];
  const first = Math.max(0, Math.floor((window.from - runsFrom(load)) / load.cycleMs) - 1);
  const end = Math.min(window.until, runsUntil(load));
  for (let nth = first; runsFrom(load) + nth * load.cycleMs < end; nth += 1) {
    const begins = runsFrom(load) + nth * load.cycleMs;
    const intoCut = Math.max(Math.round(begins + load.airShare * load.cycleMs), load.airUntil ?? 0);
    const outOfCut = begins + load.cycleMs;
    if (intoCut >= outOfCut) continue;
    if (intoCut < end) events.push(turning(load, intoCut, true));
    if (outOfCut < end) events.push(turning(load, outOfCut, false));
  }
  return events;
}
