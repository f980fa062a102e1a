// All of one long scenario while it is played: what was drawn, what is planned, what was told, and the truth about it.
import type { Draft } from '../../shared/entries.ts';
import { MILLISECONDS_A_DAY, type Instant } from '../../shared/time.ts';
import { idOf } from '../envelopes.ts';
import { prngOf, type Prng } from '../prng.ts';
import {
  drawAssemblies,
  drawBenches,
  drawSpindles,
  drawnIn,
  drawnLog,
  type ScenarioAssembly,
  type ScenarioBench,
  type ScenarioSpindle,
} from './drawn-plant.ts';
import type { Effect } from './effects.ts';
import type { LongFault, LongLabel, LongNonFault, NonFaultLabel, WholeLoad } from './fault-kinds.ts';
import { Queue } from './queue.ts';
import * as ranges from './ranges.ts';

/** What is planned. Numbers are indices into the lists of the stage. */
export type Happening =
  | { readonly what: 'work-begins' | 'work-ends' | 'clamp' | 'gap'; readonly spindle: number }
  | { readonly what: 'load-ends' | 'segment'; readonly spindle: number; readonly nth: number }
  | { readonly what: 'back'; readonly assembly: number }
  | { readonly what: 'proof'; readonly bench: number }
  | { readonly what: 'fault'; readonly kind: LongFault; readonly mixed: boolean; readonly tries: number }
  | { readonly what: 'non-fault'; readonly kind: LongNonFault }
  | { readonly what: 'looked-into'; readonly holdId: string; readonly again: boolean }
  | { readonly what: 'tick' };

export interface Stage {
  readonly seed: number;
  readonly plantId: string;
  readonly from: Instant;
  readonly until: Instant;
  readonly intervalMs: number;
  readonly loadMs: number;
  readonly workHours: number;
  readonly sharedShare: number;
  readonly gapsADay: number;
  readonly hasLimits: boolean;
  /** Sensors of spindles that rest are switched off. */
  readonly sleepy: boolean;
  readonly spindles: ScenarioSpindle[];
  readonly benches: ScenarioBench[];
  readonly assemblies: ScenarioAssembly[];
  readonly queue: Queue<Happening>;
  /** What is told and not yet handed out. */
  readonly told: Draft[];
  /** Every load as it truly was, oldest first. */
  readonly loads: WholeLoad[];
  readonly labels: LongLabel[];
  readonly nonFaults: NonFaultLabel[];
  /** Of the labels those that go on. */
  readonly active: Map<LongLabel, { readonly effect: Effect; readonly at: number | undefined }>;
  /** Chips that come with the next clamping where they fit. */
  readonly chips: { readonly mixed: boolean }[];
  readonly chance: Prng;
  readonly noise: Prng;
  now: Instant;
  ids: number;
}

const FROM: Instant = Date.UTC(2026, 0, 5);

/** @param days in place of those that are drawn: for a look at a short one. */
export function openStage(seed: number, days?: number): Stage {
  const prng = prngOf('scenario', seed);
  const size = drawSize(prng.split('size'));
  const spindles = drawSpindles(prng.split('spindles'), size.spindles);
  const benches = drawBenches(prng.split('benches'));
  return {
    seed,
    plantId: `plant-${seed}`,
    from: FROM,
    until: FROM + (days ?? size.days) * MILLISECONDS_A_DAY,
    intervalMs: size.intervalMs,
    loadMs: drawnLog(prng, ranges.LOAD_MS),
    workHours: prng.pick(ranges.WORK_HOURS),
    sharedShare: drawnIn(prng, ranges.SHARED_SHARE),
    gapsADay: prng.chance(0.5) ? drawnIn(prng, ranges.GAPS_A_DAY) : 0,
    hasLimits: prng.chance(0.5),
    sleepy: prng.chance(0.5),
    spindles,
    benches,
    assemblies: drawAssemblies(prng.split('assemblies'), spindles, benches),
    queue: new Queue(),
    told: [],
    loads: [],
    labels: [],
    nonFaults: [],
    active: new Map(),
    chips: [],
    chance: prng.split('chance'),
    noise: prng.split('noise'),
    now: FROM,
    ids: 0,
  };
}

function drawSize(prng: Prng): { readonly spindles: number; readonly days: number; readonly intervalMs: number } {
  const spindles = prng.whole(...ranges.SPINDLES);
  const drawnDays = prng.whole(...ranges.DAYS);
  const drawnMs = drawnLog(prng, ranges.INTERVAL_S) * 1000;
  const perDay = (spindles * MILLISECONDS_A_DAY) / drawnMs;
  const days = Math.max(ranges.DAYS[0], Math.min(drawnDays, Math.floor(ranges.READINGS_MAX / perDay)));
  const leastMs = (spindles * days * MILLISECONDS_A_DAY) / ranges.READINGS_MAX;
  return { spindles, days, intervalMs: Math.round(Math.max(drawnMs, leastMs) / 100) * 100 };
}

/** An id for what comes seldom. */
export function freshId(stage: Stage): string {
  stage.ids += 1;
  return idOf(stage.now, `${stage.seed}/${stage.ids}`);
}

/** Says something now; what comes seldom has an id and the time of its device. */
export function tell(stage: Stage, draft: Draft): void {
  stage.told.push(draft);
}
