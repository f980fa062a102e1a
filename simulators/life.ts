// The plant's life as timed messages: planned loads and bench work merged with the sensors' readings, shift by shift.
import { MILLISECONDS_A_SECOND, type Instant } from '../shared/time.ts';
import { withBorrow, type Overlay } from './overlay.ts';
import { createEnveloper, type Enveloper, type TimedMessage } from './envelopes.ts';
import { inTimeOrder, type PlannedEvent } from './events.ts';
import { conditionOf, SOUND, type Fault } from './faults.ts';
import { loadEvents, within, type Detail, type Window } from './load-events.ts';
import type { Plant } from './plant.ts';
import { prngOf, type Prng } from './prng.ts';
import { summaryAt, type SensorMoment } from './sensor.ts';
import { isCutting, isRunning, planShift, type LoadPlan } from './shift.ts';
import type { SimulatedSpindle } from './spindles.ts';
import { residualOf } from './bench-jobs.ts';
import { benchEvents, SHIFT_MS, shiftOf } from './tool-room.ts';
import { lastLifeEvents } from './tool-life.ts';
import { waveAt } from './waveform.ts';

export interface LifeOptions {
  readonly plant: Plant;
  readonly from: Instant;
  /** May be Infinity. */
  readonly until: Instant;
  /** Between two readings of a sensor. */
  readonly intervalS: number;
  /** In shifts that end before, they are further apart. */
  readonly sparse?: { readonly before: Instant; readonly intervalS: number };
  readonly detail: Detail;
  /** At an instant, how long between two raw windows of a sensor; undefined, or left out: none are sent. */
  readonly windowEveryMs?: (at: Instant) => number | undefined;
  /** Tells this run's boots and noise from another's. */
  readonly run: string;
  readonly overlaysOf: (shift: number) => readonly Overlay[];
}

export function* lifeOf(options: LifeOptions, enveloper: Enveloper): Generator<TimedMessage, void> {
  for (let shift = shiftOf(options.from); shift * SHIFT_MS < options.until; shift += 1) {
    const window = {
      from: Math.max(options.from, shift * SHIFT_MS),
      until: Math.min(options.until, (shift + 1) * SHIFT_MS),
    };
    const { sparse } = options;
    const then =
      sparse === undefined || window.until > sparse.before ? options : { ...options, intervalS: sparse.intervalS };
    yield* lifeOfShift(then, withLoads(options, { shift, window }), enveloper);
  }
}

export function enveloperOf({ plant, run }: Pick<LifeOptions, 'plant' | 'run'>): Enveloper {
  return createEnveloper(plant.plantId, plant.seed, run);
}

/** The overlays that may reach into a shift, its own and its neighbours'. */
function overlaysAround(options: Pick<LifeOptions, 'overlaysOf'>, shift: number): readonly Overlay[] {
  return [...new Set([shift - 1, shift, shift + 1].flatMap((near) => options.overlaysOf(near)))];
}

/** Every spindle's loads that touch the shift, with what was borrowed given over. */
export function loadsAround(
  plant: Plant,
  shift: number,
  overlays: readonly Overlay[],
): readonly (readonly LoadPlan[])[] {
  const reshaping = overlays.flatMap((overlay) => overlay.reshaped ?? []);
  const plans = [shift - 1, shift, shift + 1].map((near) => planShift(plant, near));
  const borrows = overlays.flatMap((overlay) => overlay.borrows).toSorted((a, b) => a.from - b.from);
  return plant.spindles.map((spindle, index) => {
    const loads = plans
      .flatMap((plan) => plan[index] ?? [])
      .map((load) => reshaping.reduce((reshaped, reshape) => reshape(reshaped), load));
    const own = borrows.filter((borrow) => borrow.spindleId === spindle.declared.spindleId);
    return own.reduce<readonly LoadPlan[]>(withBorrow, loads);
  });
}

/** What is clamped in each spindle at an instant. */
export function loadedAt(options: Pick<LifeOptions, 'plant' | 'overlaysOf'>, at: Instant): readonly LoadPlan[] {
  const shift = shiftOf(at);
  const loads = loadsAround(options.plant, shift, overlaysAround(options, shift));
  return loads.flatMap((own) => own.find((load) => load.loadAt < at && load.unloadAt >= at) ?? []);
}

/** What is told within a window of one shift, readings apart, in time order. */
function eventsIn({ plant, detail }: EventSource, { shift, window, overlays, loads }: ShiftWindow): PlannedEvent[] {
  const faults = overlays.flatMap((overlay) => overlay.faults);
  const benches = benchEvents(plant, shift, faults);
  return inTimeOrder([
    ...loads.flatMap((own) => own.flatMap((load) => loadEvents(load, window, detail))),
    ...[...benches, ...lastLifeEvents(plant, shift, loads)].filter((event) => within(window, event.time)),
    ...overlays.flatMap((overlay) => overlay.events.filter((event) => within(window, event.time))),
  ]);
}

/** Everything but readings between two instants: what devices that were away for a while have to make good. */
export function eventsBetween(options: EventSource, from: Instant, until: Instant): PlannedEvent[] {
  return shiftsBetween(from, until).flatMap((place) => eventsIn(options, withLoads(options, place)));
}

function shiftsBetween(from: Instant, until: Instant): { readonly shift: number; readonly window: Window }[] {
  const places = [];
  for (let shift = shiftOf(from); shift * SHIFT_MS < until; shift += 1) {
    places.push({
      shift,
      window: { from: Math.max(from, shift * SHIFT_MS), until: Math.min(until, (shift + 1) * SHIFT_MS) },
    });
  }
  return places;
}

function withLoads(options: EventSource, place: Pick<ShiftWindow, 'shift' | 'window'>): ShiftWindow {
  const overlays = overlaysAround(options, place.shift);
  return { ...place, overlays, loads: loadsAround(options.plant, place.shift, overlays) };
}

type EventSource = Pick<LifeOptions, 'plant' | 'detail' | 'overlaysOf'>;

interface ShiftWindow {
  readonly shift: number;
  readonly window: Window;
  readonly overlays: readonly Overlay[];
  /** By spindle. */
  readonly loads: readonly (readonly LoadPlan[])[];
}

function* lifeOfShift(options: LifeOptions, place: ShiftWindow, enveloper: Enveloper): Generator<TimedMessage, void> {
  const { plant, intervalS } = options;
  const { shift, window, overlays, loads } = place;
  const faults = overlays
    .flatMap((overlay) => overlay.faults)
    .filter((f) => f.to > window.from && f.from < window.until);
  const events = eventsIn(options, place);
  const watches = plant.spindles.map((spindle) =>
    watchOf(options, { spindle, shift, faults, loads: loads[spindle.index] ?? [] }),
  );
  const intervalMs = intervalS * MILLISECONDS_A_SECOND;
  let next = 0;
  for (let tick = Math.floor(window.from / intervalMs); tick * intervalMs < window.until; tick += 1) {
    for (const [nth, watch] of watches.entries()) {
      const at = Math.round((tick + nth / watches.length) * intervalMs);
      if (!within(window, at)) continue;
      for (let due = events[next]; due !== undefined && due.time <= at; due = events[next]) {
        yield enveloper.seal(due, due.time);
        next += 1;
      }
      for (const event of readingsOf(watch, at, options)) yield enveloper.seal(event, at);
    }
  }
  for (const due of events.slice(next)) yield enveloper.seal(due, due.time);
}

/** One sensor watching its spindle through a shift. */
interface Watch {
  readonly spindle: SimulatedSpindle;
  readonly plant: Plant;
  readonly loads: readonly LoadPlan[];
  readonly faults: readonly Fault[];
  readonly prng: Prng;
  nth: number;
  /** The stretch of time that has its window already. */
  windowOf: string;
  residualGmm: ReturnType<typeof residualOf>;
  /** The load that the residual belongs to. */
  known: LoadPlan | undefined;
}

function watchOf(
  { plant, run }: LifeOptions,
  { spindle, shift, faults, loads }: Pick<Watch, 'spindle' | 'faults' | 'loads'> & { readonly shift: number },
): Watch {
  const prng = prngOf(plant.seed, 'reading', run, spindle.index, shift);
  return { spindle, plant, loads, faults, prng, nth: 0, windowOf: '', residualGmm: { x: 0, y: 0 }, known: undefined };
}

/** Asked in order of time. */
function momentOf(watch: Watch, at: Instant): SensorMoment {
  for (let load = watch.loads[watch.nth]; load !== undefined && load.unloadAt <= at; load = watch.loads[watch.nth])
    watch.nth += 1;
  const candidate = watch.loads[watch.nth];
  const load = candidate !== undefined && candidate.loadAt <= at ? candidate : undefined;
  if (load !== undefined && load !== watch.known) {
    watch.known = load;
    watch.residualGmm = residualOf(watch.plant, load.assembly, load.buildId);
  }
  const { spindle, residualGmm } = watch;
  const where = { spindleId: spindle.declared.spindleId, assemblyId: load?.assembly.assemblyId, at };
  const condition = watch.faults.length === 0 ? SOUND : conditionOf(watch.faults, where);
  return { spindle, load, residualGmm, at, condition };
}

function readingsOf(watch: Watch, at: Instant, options: LifeOptions): PlannedEvent[] {
  const moment = momentOf(watch, at);
  const data = summaryAt(moment, watch.prng);
  if (data === undefined) return [];
  const summary: PlannedEvent = { channel: 'summary', time: at, device: watch.spindle.sensorDevice, data };
  return isWindowDue(watch, moment, options) ? [summary, windowOf(watch.plant, moment)] : [summary];
}

/** A stretch may be this far gone before a window in the cut is better than none. */
const IN_THE_CUT_AFTER_SHARE = 0.5;

/** One in each stretch of time, each sensor's beginning at an instant of its own; best while the tool turns in the air. */
function isWindowDue(watch: Watch, { load, at, spindle }: SensorMoment, { windowEveryMs }: LifeOptions): boolean {
  const everyMs = windowEveryMs?.(at);
  if (everyMs === undefined || load === undefined || !isRunning(load, at)) return false;
  const stretches = (at - (everyMs * spindle.index) / 16) / everyMs;
  // One that began in the shift before had its window then.
  if (shiftOf(Math.floor(stretches) * everyMs + (everyMs * spindle.index) / 16) !== shiftOf(at)) return false;
  const stretch = `${everyMs}/${Math.floor(stretches)}`;
  if (stretch === watch.windowOf) return false;
  if (isCutting(load, at) && stretches - Math.floor(stretches) < IN_THE_CUT_AFTER_SHARE) return false;
  watch.windowOf = stretch;
  return true;
}

/** Drawn apart from the readings: whether windows are sent changes none of them. */
function windowOf({ seed }: Plant, moment: SensorMoment, asked?: string): PlannedEvent {
  const { spindle, at } = moment;
  const data = waveAt(moment, prngOf(seed, 'window', spindle.index, at), asked);
  return { channel: 'wave', time: at, device: spindle.sensorDevice, data };
}

/** The window that a sensor sends because it was asked, whatever its spindle does just then; undefined where it is silent. */
export function askedWindow(
  options: LifeOptions,
  device: string,
  at: Instant,
  asked: string,
): PlannedEvent | undefined {
  const spindle = options.plant.spindles.find(({ sensorDevice }) => sensorDevice === device);
  if (spindle === undefined) return undefined;
  const shift = shiftOf(at);
  const { overlays, loads } = withLoads(options, { shift, window: { from: at, until: at + 1 } });
  const faults = overlays.flatMap((overlay) => overlay.faults);
  const moment = momentOf(watchOf(options, { spindle, shift, faults, loads: loads[spindle.index] ?? [] }), at);
  return moment.condition.sensor === 'silent' ? undefined : windowOf(options.plant, moment, asked);
}
