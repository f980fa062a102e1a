// Histories of a small invented plant by chance: few names, so that everything meets everything; good and bad mixed.
import fc from 'fast-check';
import type { Entry } from '../../../shared/entries.ts';
import type { Hold } from '../../../shared/holds.ts';
import { decide, emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { MIDNIGHT } from './story.ts';
import { SCREWS, toolRoomDrafts } from './tool-room-histories.ts';

/** Everything of an entry but its position; an act names "the nth hold so far". */
export interface Chance {
  readonly stepMs: number;
  readonly make: (at: number, holds: readonly Hold[]) => Record<string, unknown>;
}

const assembly = fc.constantFrom('A-1', 'A-2', 'A-3');
const build = fc.constantFrom('b1', 'b2', 'b3');
const spindle = fc.constantFrom('S-1', 'S-2');
const speed = fc.constantFrom(8000, 12_000, 18_000, 30_000);
/** Told time: none, right, some hours late, never set. */
const told = fc.constantFrom(undefined, 0, 0, 0, -7_200_000, -MIDNIGHT);

const builds = fc.record({
  assembly,
  build,
  grade: fc.constantFrom(2.5, 6.3),
  marked: fc.constantFrom(undefined, 15_000),
});
const results = fc.record({
  assembly,
  build,
  amount: fc.constantFrom(0.2, 1, 1.6, 5),
  stage: fc.constantFrom('before-correction', 'check'),
});
const loads = fc.record({ assembly, spindle, speed: fc.option(speed, { nil: undefined }) });
const readings = fc.record({
  spindle,
  speed,
  overall: fc.constantFrom(1, 4.2, 5, 9),
  synchronous: fc.constantFrom(undefined, 0.5, 3, 4, 4, 20),
  fault: fc.constantFrom(...Array.from({ length: 9 }, () => undefined), 'clipped'),
});
const acts = fc.record({
  act: fc.constantFrom('take', 'check', 'release', 'deviate', 'confirm', 'confirm', 'void'),
  role: fc.constantFrom('operator', 'maintenance', 'engineer'),
  name: fc.constantFrom('Ada', 'Ben'),
  nth: fc.nat(20),
});

const ENGINEER = { name: 'Ada', roles: ['engineer'] };

/** Work for some minutes of the first hours, called off now and then; and how holds are answered. */
const plannedDrafts = fc.oneof(
  fc
    .record({
      spindle,
      work: fc.constantFrom('W-1', 'W-2'),
      fromMin: fc.nat(90),
      minutes: fc.integer({ min: 1, max: 20 }),
    })
    .chain(({ spindle: spindleId, work: workId, fromMin, minutes }) =>
      fc.constantFrom({}, {}, { calledOff: true }).map((calledOff) => ({
        kind: 'work-planned',
        actor: ENGINEER,
        data: {
          spindleId,
          workId,
          from: rfc3339Of(MIDNIGHT + fromMin * 60_000),
          until: rfc3339Of(MIDNIGHT + (fromMin + minutes) * 60_000),
          note: 'drawbar force',
          ...calledOff,
        },
      })),
    ),
  fc.constantFrom(1, 2, 2).map(answeringDraft),
);

const drafts = fc.oneof(
  { weight: 3, arbitrary: builds.map(buildDraft) },
  { weight: 5, arbitrary: results.map(resultDraft) },
  { weight: 6, arbitrary: loads.map(loadDraft) },
  { weight: 2, arbitrary: spindle.map((spindleId) => draft('load', { spindleId, action: 'unload' })) },
  {
    weight: 3,
    arbitrary: fc
      .record({ spindle, speed })
      .map(({ spindle: spindleId, speed: programmedSpeedRpm }) => draft('machine', { spindleId, programmedSpeedRpm })),
  },
  { weight: 20, arbitrary: readings.map(readingDraft) },
  { weight: 3, arbitrary: toolRoomDrafts },
  { weight: 2, arbitrary: fc.constant({ kind: 'tick' }) },
  { weight: 1, arbitrary: spindle.map(declaredDraft) },
  { weight: 1, arbitrary: plannedDrafts },
  { weight: 1, arbitrary: fc.boolean().map((online) => ({ ...draft('state', { online }), device: 'sensor-S-1' })) },
  {
    weight: 1,
    arbitrary: spindle.map((id) => ({
      ...draft('birth', { kind: 'sensor', intervalS: 20, serves: [id] }),
      device: `sensor-${id}`,
    })),
  },
  {
    weight: 1,
    arbitrary: fc
      .record({ assembly, spindle })
      .map((q) => draft('query', { assemblyId: q.assembly, spindleId: q.spindle })),
  },
);

function answeringDraft(deviationNames: number): Record<string, unknown> {
  const afterMin = { 'at-once': 1, 'this-shift': 5, 'when-planned': 20 };
  const data = { levels: [{ afterMin, to: ['maintenance'] }], deviationNames, note: 'as we do it here' };
  return { kind: 'answering-declared', actor: ENGINEER, data };
}

function draft(kind: string, data: object): Record<string, unknown> {
  return { kind, device: kind === 'build' || kind === 'result' ? 'bench-1' : 'machine-1', data };
}

function buildDraft(one: {
  assembly: string;
  build: string;
  grade: number;
  marked: number | undefined;
}): Record<string, unknown> {
  const parts = [{ role: 'holder', name: 'H', ...(one.marked === undefined ? {} : { markedMaxSpeedRpm: one.marked }) }];
  const data = {
    assemblyId: one.assembly,
    buildId: one.build,
    massKg: 1.2,
    serviceSpeedRpm: 18_000,
    gradeMmS: one.grade,
    parts,
    features: SCREWS,
  };
  return draft('build', data);
}

function resultDraft(one: { assembly: string; build: string; amount: number; stage: string }): Record<string, unknown> {
  const planes = [{ name: 'A', residualGmm: one.amount, angleDeg: 10 }];
  return draft('result', {
    assemblyId: one.assembly,
    buildId: one.build,
    stage: one.stage,
    frame: 'machine',
    planes,
    error: { smallestAchievableGmm: 0.1 },
  });
}

function loadDraft(one: { assembly: string; spindle: string; speed: number | undefined }): Record<string, unknown> {
  const programmed = one.speed === undefined ? {} : { programmedSpeedRpm: one.speed };
  return draft('load', { spindleId: one.spindle, action: 'load', assemblyId: one.assembly, ...programmed });
}

function readingDraft(one: {
  spindle: string;
  speed: number;
  overall: number;
  synchronous: number | undefined;
  fault: string | undefined;
}): Record<string, unknown> {
  const data = {
    spindleId: one.spindle,
    speedRpm: one.speed,
    overallMmS: one.overall,
    ...(one.synchronous === undefined ? {} : { synchronousMmS: one.synchronous }),
    ...(one.fault === undefined ? {} : { fault: one.fault }),
  };
  return { kind: 'summary', device: `sensor-${one.spindle}`, data };
}

function declaredDraft(spindleId: string): Record<string, unknown> {
  const limit = { fromSpeedRpm: 1000, toSpeedRpm: 24_000, source: 'machine maker (invented)' };
  const limits = [
    { quantity: 'overall', limitMmS: 4.5, ...limit },
    { quantity: 'synchronous', limitMmS: 2.8, ...limit },
  ];
  const data = { spindleId, machine: 'M', cell: 'C', maxSpeedRpm: 24_000, limits };
  return { kind: 'spindle-declared', actor: { name: 'Ada', roles: ['engineer'] }, data };
}

const chances: fc.Arbitrary<Chance> = fc.oneof(
  {
    weight: 9,
    arbitrary: fc.tuple(drafts, fc.integer({ min: 0, max: 60_000 }), told).map(([made, stepMs, offset]) => ({
      stepMs,
      make: (at: number) => ({
        ...made,
        id: `m-${at}`,
        ...(offset === undefined || !('device' in made) ? {} : { time: at + offset }),
      }),
    })),
  },
  {
    weight: 1,
    arbitrary: acts.map(({ act, role, nth, name }) => ({
      stepMs: 1000,
      make: (_: number, holds: readonly Hold[]) => {
        const holdId = holds[nth % Math.max(1, holds.length)]?.holdId ?? 'H-0-1';
        return {
          kind: 'hold-act',
          id: 'act',
          actor: { name, roles: [role] },
          data: { act, holdId, note: 'a reason' },
        };
      },
    })),
  },
);

/** Ordinary loads of two assemblies, then the same two with eight times the 1×: what nothing that is known explains. */
const CHANGED: readonly Chance[] = Array.from({ length: 12 }, (_, nth) => nth).flatMap((nth) => {
  const made = [
    loadDraft({ assembly: nth % 2 === 0 ? 'A-1' : 'A-2', spindle: 'S-1', speed: undefined }),
    ...(nth < 10 ? [1] : [1, 2, 3]).map((step) =>
      readingDraft({
        spindle: 'S-1',
        speed: 8000,
        overall: (nth < 10 ? 0.6 : 4.1) + step / 100,
        synchronous: nth < 10 ? 0.5 : 4,
        fault: undefined,
      }),
    ),
  ];
  return made.map((one) => ({ stepMs: 60_000, make: (at: number) => ({ ...one, id: `m-${at}` }) }));
});

export const histories = fc
  .tuple(fc.boolean(), fc.array(chances, { minLength: 1, maxLength: 150, size: 'max' }))
  .map(([changed, chance]) => (changed ? [...CHANGED, ...chance] : chance));

export interface Step {
  readonly entry: Entry;
  readonly outcomes: readonly Outcome[];
}

/** Decides and folds a history; `look` sees the floor before each entry is folded, with what was decided. */
export function live(
  history: readonly Chance[],
  look?: (floor: Floor, step: Step) => void,
): { floor: Floor; steps: Step[] } {
  const floor = emptyFloor('test');
  const steps: Step[] = [];
  let at = MIDNIGHT;
  history.forEach(({ stepMs, make }, index) => {
    at += stepMs;
    const entry = { ...make(at, [...floor.holds.values()]), at, position: index + 1 } as unknown as Entry;
    const step = { entry, outcomes: decide(floor, entry) };
    look?.(floor, step);
    evolve(floor, entry, step.outcomes);
    steps.push(step);
  });
  return { floor, steps };
}
