// What the demo shows of itself in its first minutes, laid over ordinary life: every scene has its time and its label.
import { MILLISECONDS_A_MINUTE, MILLISECONDS_A_SECOND, type Instant } from '../shared/time.ts';
import type { BalanceResult } from '../shared/messages/index.ts';
import { measure } from './bench.ts';
import type { PlannedEvent } from './events.ts';
import type { Fault } from './faults.ts';
import type { Overlay } from './overlay.ts';
import { angleOf, added, scaled, unbalanceForGmm } from './physics.ts';
import type { Plant } from './plant.ts';
import { prngOf } from './prng.ts';
import { assemblyFor, exceedsThenCorrected, unmeasuredChange, wrongPairing } from './scenes.ts';
import { planLoad, planShift, type LoadPlan } from './shift.ts';
import type { SimulatedSpindle } from './spindles.ts';
import { benchFor, residualOf } from './bench-jobs.ts';
import { buildIdAt, buildIdIn, shiftOf } from './tool-room.ts';

/** Seconds after the start at which each scene begins, and at which it is put right. */
export const STORY_S = {
  built: 4,
  exceeds: 8,
  passes: 75,
  wrongPairing: 25,
  wrongPairingEnds: 480,
  clampedForTheRun: 14,
  unbalanceGrows: 40,
  unbalanceFull: 50,
  unbalanceEnds: 1500,
  malformed: 60,
  changedUnmeasured: 110,
  changedLoaded: 150,
  changedUnloaded: 300,
  changedMeasured: 420,
  silent: 200,
  silentEnds: 500,
  ends: 1560,
} as const;

/** Which spindle each scene takes place in. */
export const STORY_PLACES = { wrongPairing: 2, unbalance: 6, changed: 4, silent: 10 } as const;

/** How far over its limit the growing unbalance takes the spindle. */
const OVER_LIMIT = 1.45;

export function storyOf(plant: Plant, startedAt: Instant): readonly Overlay[] {
  const at = (seconds: number): Instant => startedAt + seconds * MILLISECONDS_A_SECOND;
  const tag = `S${Math.floor(startedAt / MILLISECONDS_A_SECOND).toString(36)}`;
  return [
    exceedsThenCorrected(plant, {
      tag,
      builtAt: at(STORY_S.built),
      exceedsAt: at(STORY_S.exceeds),
      passesAt: at(STORY_S.passes),
    }),
    wrongPairing(plant, {
      spindle: spindleAt(plant, STORY_PLACES.wrongPairing),
      loadAt: at(STORY_S.wrongPairing),
      unloadAt: at(STORY_S.wrongPairingEnds),
    }),
    growingUnbalance(plant, at),
    malformedResult(plant, at(STORY_S.malformed)),
    unmeasuredChange(plant, {
      tag,
      spindle: spindleAt(plant, STORY_PLACES.changed),
      changedAt: at(STORY_S.changedUnmeasured),
      loadAt: at(STORY_S.changedLoaded),
      unloadAt: at(STORY_S.changedUnloaded),
      measuredAt: at(STORY_S.changedMeasured),
    }),
    silentSensor(plant, at),
  ];
}

function spindleAt(plant: Plant, place: number): SimulatedSpindle {
  const spindle = plant.spindles[place];
  if (spindle === undefined) throw new Error(`the plant has no spindle ${place}`);
  return spindle;
}

/** Runs in the air, so that every reading is comparable, until its own unbalance takes it over its limit; and stays there. */
function growingUnbalance(plant: Plant, at: (seconds: number) => Instant): Overlay {
  const spindle = spindleAt(plant, STORY_PLACES.unbalance);
  const load = airRun(plant, spindle, at);
  const spindleId = spindle.declared.spindleId;
  const speedRpm = load.programmedSpeedRpm;
  const limits = spindle.declared.limits.filter((one) => speedRpm >= one.fromSpeedRpm && speedRpm <= one.toSpeedRpm);
  const target = OVER_LIMIT * Math.max(...limits.map((limit) => limit.limitMmS));
  const present = added(
    residualOf(plant, load.assembly, load.buildId),
    spindle.ownGmm,
    scaled(load.offsetUm, load.assembly.massKg),
  );
  const fault: Fault = {
    kind: 'spindle-unbalance-growing',
    subject: { kind: 'spindle', id: spindleId },
    from: at(STORY_S.unbalanceGrows),
    to: at(STORY_S.unbalanceEnds),
    size: unbalanceForGmm(spindle.mode, target, speedRpm),
    // In step with what is there already, so that it only ever grows.
    angleDeg: angleOf(present),
    growsMs: at(STORY_S.unbalanceFull) - at(STORY_S.unbalanceGrows),
  };
  const borrow = { spindleId, from: load.loadAt - 4 * MILLISECONDS_A_SECOND, to: at(STORY_S.ends), loads: [load] };
  return { borrows: [borrow], events: [], faults: [fault] };
}

function airRun(plant: Plant, spindle: SimulatedSpindle, at: (seconds: number) => Instant): LoadPlan {
  const loadAt = at(STORY_S.clampedForTheRun);
  const assembly = planShift(plant, shiftOf(loadAt))[spindle.index]?.[0]?.assembly;
  if (assembly === undefined) throw new Error('each spindle has something to run in each shift');
  return planLoad(
    {
      spindle,
      assembly,
      buildId: buildIdIn(plant, assembly, shiftOf(loadAt)),
      loadAt,
      unloadAt: at(STORY_S.ends) - 5 * MILLISECONDS_A_SECOND,
      programmedSpeedRpm: assembly.serviceSpeedRpm,
      overridePercent: 100,
      startsAfterMs: 4 * MILLISECONDS_A_SECOND,
      airUntil: loadAt + 12 * MILLISECONDS_A_MINUTE,
    },
    prngOf(plant.seed, 'air run', loadAt),
  );
}

/** A decimal comma, as text: what a bench with another regional setting may send. */
function malformedResult(plant: Plant, time: Instant): Overlay {
  const assembly = assemblyFor(plant, 'slow');
  const bench = benchFor(plant, assembly);
  const buildId = buildIdAt(plant, assembly, time);
  const residualGmm = residualOf(plant, assembly, buildId);
  const good = measure(
    bench,
    { assembly, buildId, runId: `${buildId}-M`, stage: 'check', residualGmm },
    prngOf(plant.seed, 'malformed', time),
  );
  const event: PlannedEvent = {
    channel: 'result',
    time,
    device: bench.device,
    subject: `assembly/${assembly.assemblyId}`,
    data: withDecimalComma(good),
  };
  return {
    borrows: [],
    events: [event],
    faults: [{ kind: 'malformed-message', subject: { kind: 'bench', id: bench.device }, from: time, to: time + 1 }],
  };
}

function withDecimalComma(result: BalanceResult): BalanceResult {
  const amount: unknown = String(result.massKg).replace('.', ',');
  // The one message of the whole demo that is wrong on purpose: its type says number and it carries text.
  return { ...result, massKg: amount as number };
}

function silentSensor(plant: Plant, at: (seconds: number) => Instant): Overlay {
  const id = spindleAt(plant, STORY_PLACES.silent).declared.spindleId;
  const fault: Fault = {
    kind: 'sensor-silent',
    subject: { kind: 'spindle', id },
    from: at(STORY_S.silent),
    to: at(STORY_S.silentEnds),
  };
  return { borrows: [], events: [], faults: [fault] };
}
