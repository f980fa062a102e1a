// The working day of a spindle in a long scenario: what is clamped, for how long, at which speeds, in the air or in the cut.
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR } from '../../shared/time.ts';
import { clamp, buildIdOf } from './clamping.ts';
import { drawnIn, type ScenarioAssembly, type ScenarioSpindle } from './drawn-plant.ts';
import { end, noteLoads, plantChip } from './planting.ts';
import * as ranges from './ranges.ts';
import { freshId, tell, type Stage } from './stage.ts';
import { sendToToolRoom } from './tool-room-work.ts';

const NOTHING_FREE_MS = 10 * 60_000;
const CONTROL_DELAY_MS = 150;
/** Standing for so long a spindle gets cold. Common practice, no source. */
const COLD_AFTER_MS = 2 * MILLISECONDS_AN_HOUR;
const NEXT_SPEED_SHARE = 0.35;

export function beginWork(stage: Stage, index: number): void {
  const spindle = stage.spindles[index];
  if (spindle === undefined) return;
  const { queue, now, workHours } = stage;
  spindle.works = true;
  if (workHours < 24) {
    queue.add(now + workHours * MILLISECONDS_AN_HOUR, { what: 'work-ends', spindle: index });
    queue.add(now + MILLISECONDS_A_DAY, { what: 'work-begins', spindle: index });
  }
  if (24 - workHours >= COLD_AFTER_MS / MILLISECONDS_AN_HOUR) spindle.warmFrom = Infinity;
  if (stage.sleepy) online(stage, spindle, true);
  queue.add(now + Math.round(drawnIn(stage.chance, ranges.CHANGE_MS)), { what: 'clamp', spindle: index });
}

export function endWork(stage: Stage, index: number): void {
  const spindle = stage.spindles[index];
  if (spindle === undefined) return;
  if (spindle.clamped !== undefined) takeOut(stage, spindle);
  spindle.works = false;
  if (stage.sleepy) online(stage, spindle, false);
}

function online(stage: Stage, { sensor }: ScenarioSpindle, isOn: boolean): void {
  tell(stage, {
    at: stage.now,
    kind: 'state',
    device: sensor.device,
    id: freshId(stage),
    time: Math.round(stage.now - CONTROL_DELAY_MS + sensor.skewMs),
    data: { online: isOn, reason: isOn ? 'connected' : 'stopped' },
  });
}

export function startLoad(stage: Stage, index: number): void {
  const spindle = stage.spindles[index];
  if (spindle === undefined || !spindle.works || spindle.clamped !== undefined) return;
  const { now, queue, seed, chance, active } = stage;
  const assembly = picked(stage, spindle);
  if (assembly === undefined) return queue.add(now + NOTHING_FREE_MS, { what: 'clamp', spindle: index });
  spindle.loads += 1;
  assembly.loads += 1;
  assembly.place = 'spindle';
  for (const { effect } of active.values()) effect.beforeClamp(spindle);
  const nth = spindle.loads;
  const clamped = clamp(spindle, assembly, { at: now, nth, seed });
  spindle.clamped = clamped;
  clamped.speed = chance.whole(0, assembly.speedsRpm.length - 1);
  if (!Number.isFinite(spindle.warmFrom)) spindle.warmFrom = now;
  noteLoads(stage, spindle, clamped);
  plantChip(stage, spindle);
  tellLoad(stage, spindle, assembly, clamped.speeds[clamped.speed]?.speedRpm ?? assembly.serviceRpm);
  const lasts = Math.max(
    ranges.LOAD_MS[0],
    ranges.READINGS_PER_LOAD_MIN * stage.intervalMs,
    stage.loadMs * Math.exp(ranges.LOAD_SPREAD * chance.gaussian()),
  );
  queue.add(now + Math.round(lasts), { what: 'load-ends', spindle: index, nth });
  queue.add(now + Math.round(drawnIn(chance, ranges.SEGMENT_MS)), { what: 'segment', spindle: index, nth });
}

/** One of its own as a rule; now and then any other of its taper. */
function picked(stage: Stage, spindle: ScenarioSpindle): ScenarioAssembly | undefined {
  const { chance, sharedShare, assemblies } = stage;
  const free = assemblies.filter((it) => it.place === 'shelf' && it.taper === spindle.taper);
  const own = free.filter((it) => it.home === spindle.index);
  const from = own.length === 0 || chance.chance(sharedShare) ? free : own;
  return from.length === 0 ? undefined : chance.pick(from);
}

function tellLoad(stage: Stage, spindle: ScenarioSpindle, assembly: ScenarioAssembly, speedRpm: number): void {
  tell(stage, {
    at: stage.now,
    kind: 'load',
    device: spindle.machineDevice,
    id: freshId(stage),
    time: stage.now - CONTROL_DELAY_MS,
    data: {
      spindleId: spindle.spindleId,
      action: 'load',
      assemblyId: assembly.assemblyId,
      buildId: buildIdOf(assembly),
      programmedSpeedRpm: speedRpm,
    },
  });
}

export function stopLoad(stage: Stage, index: number, nth: number): void {
  const spindle = stage.spindles[index];
  if (spindle?.clamped?.nth !== nth) return;
  takeOut(stage, spindle);
  const later = Math.round(drawnIn(stage.chance, ranges.CHANGE_MS));
  stage.queue.add(stage.now + later, { what: 'clamp', spindle: index });
}

function takeOut(stage: Stage, spindle: ScenarioSpindle): void {
  const { clamped } = spindle;
  if (clamped === undefined) return;
  const { assembly, fact } = clamped;
  fact.until = stage.now;
  spindle.clamped = undefined;
  assembly.place = 'shelf';
  assembly.loadsLeft -= 1;
  for (const label of stage.active.keys()) {
    if (label.kind === 'chip-under-taper' && label.loads[0]?.load === fact) end(stage, label);
  }
  tell(stage, {
    at: stage.now,
    kind: 'load',
    device: spindle.machineDevice,
    id: freshId(stage),
    time: stage.now - CONTROL_DELAY_MS,
    data: { spindleId: spindle.spindleId, action: 'unload', assemblyId: assembly.assemblyId },
  });
  if (assembly.loadsLeft <= 0) sendToToolRoom(stage, assembly);
}

/** In the air or in the cut, at the same speed or at another one. */
export function nextSegment(stage: Stage, index: number, nth: number): void {
  const spindle = stage.spindles[index];
  const clamped = spindle?.clamped;
  if (spindle === undefined || clamped?.nth !== nth) return;
  const { chance, now } = stage;
  const wasCutting = clamped.cutting;
  clamped.cutting = !chance.chance(spindle.airShare);
  const { speeds } = clamped;
  const other =
    speeds.length > 1 && chance.chance(NEXT_SPEED_SHARE) ? chance.whole(0, speeds.length - 1) : clamped.speed;
  const changed = other !== clamped.speed;
  if (changed) {
    clamped.speed = other;
    clamped.since = now;
  }
  if (changed || (spindle.controlTellsCut && wasCutting !== clamped.cutting)) {
    const programmedSpeedRpm = Math.fround(speeds[other]?.speedRpm ?? 0);
    const cut = spindle.controlTellsCut ? { cutting: clamped.cutting } : {};
    tell(stage, {
      at: now,
      kind: 'machine',
      device: spindle.machineDevice,
      id: freshId(stage),
      time: now - CONTROL_DELAY_MS,
      data: { spindleId: spindle.spindleId, programmedSpeedRpm, ...cut },
    });
  }
  stage.queue.add(now + Math.round(drawnIn(chance, ranges.SEGMENT_MS)), { what: 'segment', spindle: index, nth });
}

/** A sensor that is not heard for a while; what it measured meanwhile is lost. */
export function gap(stage: Stage, index: number): void {
  const spindle = stage.spindles[index];
  if (spindle === undefined || stage.gapsADay === 0) return;
  const { chance, now, queue, gapsADay } = stage;
  spindle.sensor.silentUntil = now + drawnIn(chance, ranges.GAP_MS);
  queue.add(Math.round(now - (MILLISECONDS_A_DAY / gapsADay) * Math.log(1 - chance.next())), {
    what: 'gap',
    spindle: index,
  });
}
