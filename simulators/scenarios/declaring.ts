// The first day of a long scenario: people declare spindles with their limits, devices say who they are, all assemblies are built.
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR } from '../../shared/time.ts';
import { LIMIT_SOURCE } from '../spindles.ts';
import type { ScenarioSpindle } from './drawn-plant.ts';
import { freshId, tell, type Stage } from './stage.ts';
import { buildAnew, usualWorstMmS } from './tool-room-work.ts';

/** Limits lie so many times above anything usual: they are no substitute for knowing what is to be expected. */
const LIMIT_TIMES = 2;
const OVERALL_OVER_ONCE = 1.6;
const ENGINEER = { name: 'Engineer-1', roles: ['engineer'] } as const;

export function declarePlant(stage: Stage): void {
  const { spindles, benches, assemblies, queue, from, chance } = stage;
  for (const spindle of spindles) {
    declareSpindle(stage, spindle);
    bornSensor(stage, spindle);
    queue.add(from + Math.round(chance.between(0, MILLISECONDS_AN_HOUR)), {
      what: 'work-begins',
      spindle: spindle.index,
    });
    spindle.nextReadingAt = from + Math.round(chance.between(0, stage.intervalMs));
    if (stage.gapsADay > 0)
      queue.add(from + Math.round(chance.between(0, 2) * MILLISECONDS_A_DAY), { what: 'gap', spindle: spindle.index });
  }
  for (const [index, bench] of benches.entries()) {
    tell(stage, {
      at: from,
      kind: 'birth',
      device: bench.device,
      id: freshId(stage),
      time: from,
      data: { kind: 'bench', serial: `${bench.device} (invented)` },
    });
    if (Number.isFinite(bench.provesEveryMs))
      queue.add(from + MILLISECONDS_AN_HOUR * (index + 1), { what: 'proof', bench: index });
  }
  for (const assembly of assemblies) {
    buildAnew(stage, assembly);
    // They are not all worn on the same day.
    assembly.loadsLeft = Math.ceil(assembly.loadsLeft * chance.next());
  }
}

function declareSpindle(stage: Stage, spindle: ScenarioSpindle): void {
  const { spindleId, taper, index } = spindle;
  const limitMmS = Math.ceil(usualWorstMmS(stage, index) * LIMIT_TIMES * 10) / 10;
  const toSpeedRpm = Math.round(taper.serviceRpm[1] * 1.1);
  const limit = { fromSpeedRpm: 1, toSpeedRpm, source: LIMIT_SOURCE };
  tell(stage, {
    at: stage.from,
    kind: 'spindle-declared',
    id: freshId(stage),
    actor: { name: ENGINEER.name, roles: [...ENGINEER.roles] },
    data: {
      spindleId,
      machine: `Mill ${index + 1} (invented)`,
      cell: 'Cell 1',
      interface: taper.name,
      maxSpeedRpm: toSpeedRpm,
      limits: stage.hasLimits
        ? [
            { ...limit, quantity: 'synchronous', limitMmS },
            {
              ...limit,
              quantity: 'overall',
              limitMmS: Math.ceil((limitMmS * OVERALL_OVER_ONCE + 2 * spindle.floorMmS) * 10) / 10,
            },
          ]
        : [],
    },
  });
}

/** A sensor that is new in its place, or the one that was there, switched on. */
export function bornSensor(stage: Stage, { sensor, spindleId }: ScenarioSpindle): void {
  tell(stage, {
    at: stage.now,
    kind: 'birth',
    device: sensor.device,
    id: freshId(stage),
    time: stage.now + sensor.skewMs,
    bootId: sensor.bootId,
    data: {
      kind: 'sensor',
      serial: `${sensor.device} (invented)`,
      serves: [spindleId],
      intervalS: stage.intervalMs / 1000,
    },
  });
}
