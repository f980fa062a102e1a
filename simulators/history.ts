// A believable past: declarations first, then what every device would have said, mostly quiet, in time order.
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR, type Instant } from '../shared/time.ts';
import { benchHistory } from './bench-history.ts';
import { sealAct, type TimedMessage } from './envelopes.ts';
import { startingEvents } from './devices.ts';
import type { Fault } from './faults.ts';
import { incidentsIn } from './incidents.ts';
import { enveloperOf, lifeOf, loadedAt, type LifeOptions } from './life.ts';
import { clamped, turning } from './load-events.ts';
import type { Overlay } from './overlay.ts';
import { KEPT_OVERRIDE_DAYS, keptOverride } from './kept-override.ts';
import { isRunning } from './shift.ts';
import { INVENTED_RATES } from './rates.ts';
import { makePlant, PLANT_ENGINEER, PLANT_ID } from './plant.ts';
import { latestBenchEvents } from './tool-room.ts';

export const HISTORY_INTERVAL_S = 300;
export const HISTORY_DAYS = 90;

export interface HistoryOptions {
  readonly seed: number;
  readonly until: Instant;
  readonly days?: number;
  readonly intervalS?: number;
  /** Readings more than so many days before the end are further apart, as retention would leave them. */
  readonly sparse?: { readonly olderThanDays: number; readonly intervalS: number };
  readonly plantId?: string;
  /** Raw windows among the readings; without it there are none. */
  readonly windows?: PastWindows;
  /** Further faults to plant, with their labels; a past without any is quiet but for small incidents. */
  readonly faults?: readonly Fault[];
  /** Of the demonstration: an override that was turned down and kept down, and invented rates. */
  readonly demonstrates?: boolean;
}

/** So many days back every so many hours, the last day oftener. */
export interface PastWindows {
  readonly days: number;
  readonly everyHours: number;
  readonly lastDayEveryHours: number;
}

/** From `days` before `until` up to `until`, itself excluded; `at` never decreases. Nothing of it is held in memory. */
export function* history({
  seed,
  until,
  days = HISTORY_DAYS,
  intervalS = HISTORY_INTERVAL_S,
  sparse,
  plantId = PLANT_ID,
  windows,
  faults = [],
  demonstrates = false,
}: HistoryOptions): Generator<TimedMessage, void> {
  const plant = makePlant(seed, plantId);
  const from = until - days * MILLISECONDS_A_DAY;
  const run = `past/${from}`;
  const planted: Overlay = { borrows: [], events: [], faults };
  const slowed = demonstrates ? [keptOverride(plant, until - KEPT_OVERRIDE_DAYS * MILLISECONDS_A_DAY)] : [];
  const benches = benchHistory(plant, { until, days });
  const options: LifeOptions = {
    plant,
    from,
    until,
    intervalS,
    ...(sparse === undefined
      ? {}
      : { sparse: { before: until - sparse.olderThanDays * MILLISECONDS_A_DAY, intervalS: sparse.intervalS } }),
    detail: 'past',
    ...(windows === undefined ? {} : { windowEveryMs: everyMsOf(windows, until) }),
    run,
    overlaysOf: (shift) => [planted, benches, ...slowed, ...incidentsIn(plant, shift)],
  };
  if (demonstrates) yield ratesOf(plant, from);
  yield* fromTheBeginning(options);
}

function ratesOf({ plantId, seed }: LifeOptions['plant'], at: Instant): TimedMessage {
  return sealAct(
    { kind: 'rates-declared', data: INVENTED_RATES },
    { plantId, person: PLANT_ENGINEER, role: 'engineer', at, key: `${seed}/rates` },
  );
}

function everyMsOf({ days, everyHours, lastDayEveryHours }: PastWindows, until: Instant) {
  return (at: Instant): number | undefined => {
    if (at < until - days * MILLISECONDS_A_DAY) return undefined;
    return MILLISECONDS_AN_HOUR * (at < until - MILLISECONDS_A_DAY ? everyHours : lastDayEveryHours);
  };
}

/** For a journal that knows nothing yet: declarations, births, what is built, measured and clamped already, then life. */
export function* fromTheBeginning(options: LifeOptions): Generator<TimedMessage, void> {
  const { plant, from, intervalS } = options;
  const { plantId, seed } = plant;
  const enveloper = enveloperOf(options);
  for (const { declared } of plant.spindles) {
    const key = `${seed}/declared/${declared.spindleId}`;
    yield sealAct(
      { kind: 'spindle-declared', data: declared },
      { plantId, person: PLANT_ENGINEER, role: 'engineer', at: from, key },
    );
  }
  const loads = loadedAt(options, from);
  const opening = [
    ...startingEvents(plant, from, intervalS),
    ...latestBenchEvents(plant, from),
    ...loads.map((load) => clamped(load, load.loadAt)),
    ...loads.filter((load) => isRunning(load, from)).map((load) => turning(load, from)),
  ];
  // Told late, at the start: what was measured and clamped before the journal began.
  for (const event of opening) yield enveloper.seal(event, from);
  yield* lifeOf(options, enveloper);
}
