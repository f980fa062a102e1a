// The live run as timed messages: ordinary life from where the past ended, the story laid over it, rare faults after it.
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE, MILLISECONDS_A_SECOND, type Instant } from '../shared/time.ts';
import type { Enveloper, TimedMessage } from './envelopes.ts';
import type { PlannedEvent } from './events.ts';
import type { Fault } from './faults.ts';
import { incidentsIn } from './incidents.ts';
import { askedWindow, enveloperOf, eventsBetween, lifeOf, loadedAt, type LifeOptions } from './life.ts';
import { clamped, turning } from './load-events.ts';
import { KEPT_OVERRIDE_DAYS, keptOverride } from './kept-override.ts';
import type { Overlay } from './overlay.ts';
import type { Plant } from './plant.ts';
import { rareFaultsIn } from './rare-faults.ts';
import { isCutting, isRunning } from './shift.ts';
import { STORY_S, storyOf } from './story.ts';
import { latestBenchEvents } from './tool-room.ts';

export interface LiveOptions {
  readonly plant: Plant;
  readonly startedAt: Instant;
  readonly intervalS: number;
  /**
   * The journal has everything that was told before this instant, e.g. the end of a history: only what happened since
   * is made good. Absent: each device tells again what is built, measured and clamped, as after an earlier run.
   */
  readonly knownUntil?: Instant;
  /** Further faults to plant, with their labels. */
  readonly faults?: readonly Fault[];
  /** Left out: the story is told. */
  readonly story?: boolean;
}

export interface LiveRun {
  readonly messages: Generator<TimedMessage, void>;
  readonly enveloper: Enveloper;
  /** The labels of what is planted in the story. */
  readonly labels: readonly Fault[];
  /** What a sensor that is asked for a raw window sends. */
  readonly windowNow: (device: string, at: Instant, asked: string) => TimedMessage | undefined;
}

const WINDOW_EVERY_MS = 5 * MILLISECONDS_A_MINUTE;
const QUIET_AROUND_MS = 15 * MILLISECONDS_A_MINUTE;

export function liveRun(options: LiveOptions): LiveRun {
  const { plant, startedAt } = options;
  const story = options.story === false ? [] : storyOf(plant, startedAt);
  const planted: Overlay = { borrows: [], events: [], faults: options.faults ?? [] };
  // As the past left it: turned down days ago, and still.
  const slowed =
    options.story === false ? [] : [keptOverride(plant, startedAt - KEPT_OVERRIDE_DAYS * MILLISECONDS_A_DAY)];
  const fixed = [...story, planted];
  const storyEnds = startedAt + STORY_S.ends * MILLISECONDS_A_SECOND + QUIET_AROUND_MS;
  const life: LifeOptions = {
    plant,
    from: startedAt,
    until: Infinity,
    intervalS: options.intervalS,
    detail: 'live',
    windowEveryMs: () => WINDOW_EVERY_MS,
    run: `live/${startedAt}`,
    overlaysOf: (shift) => [
      ...fixed,
      ...slowed,
      // Those under way go on; no new one mixes with the story.
      ...incidentsIn(plant, shift).filter((overlay) => beginsOutside(overlay, startedAt, storyEnds)),
      ...rareFaultsIn(plant, shift).filter((overlay) => beginsOutside(overlay, -Infinity, storyEnds)),
    ],
  };
  const enveloper = enveloperOf(life);
  const labels = fixed.flatMap((overlay) => overlay.faults);
  return {
    messages: messagesOf(options, life, enveloper),
    enveloper,
    labels,
    windowNow: (device, at, asked) => {
      const event = askedWindow(life, device, at, asked);
      return event === undefined ? undefined : enveloper.seal(event, at);
    },
  };
}

function beginsOutside(overlay: Overlay, from: Instant, to: Instant): boolean {
  return overlay.faults.every((fault) => fault.from < from || fault.from >= to);
}

function* messagesOf(options: LiveOptions, life: LifeOptions, enveloper: Enveloper): Generator<TimedMessage, void> {
  const { startedAt, knownUntil, plant } = options;
  const owed = knownUntil === undefined ? toldAgain(plant, life) : eventsBetween(life, knownUntil, startedAt);
  for (const event of owed) yield enveloper.seal(event, startedAt);
  yield* lifeOf(life, enveloper);
}

/** Builds and results as they were (repeats are known by their id); loads anew, for nobody knows what happened meanwhile. */
function toldAgain(plant: Plant, life: LifeOptions): PlannedEvent[] {
  const { from } = life;
  const loads = loadedAt(life, from);
  return [
    ...latestBenchEvents(plant, from),
    ...plant.spindles.map((spindle): PlannedEvent => {
      const spindleId = spindle.declared.spindleId;
      const subject = `spindle/${spindleId}`;
      return {
        channel: 'load',
        time: from - 2,
        device: spindle.machineDevice,
        subject,
        data: { spindleId, action: 'unload' },
      };
    }),
    ...loads.map((load) => clamped(load, from - 1)),
    ...loads.filter((load) => isRunning(load, from)).map((load) => turning(load, from - 1, isCutting(load, from))),
  ];
}
