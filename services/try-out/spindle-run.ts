// One spindle judged by other limits: reading by reading with the very functions that the rules count with.
import type { LimitQuantity, VibrationLimit } from '../../shared/acts.ts';
import { limitInForce } from '../../shared/limit-in-force.ts';
import { settingsFor, type ScopedTo } from '../../shared/rule-settings.ts';
import type { Instant } from '../../shared/time.ts';
import type { HoldTried, TryOutReason } from '../../shared/try-out.ts';
import {
  clearWatch,
  countOver,
  isAtRest,
  isDominant,
  newWatch,
  persistsWith,
  REASON_OF,
  tunedBy,
  type LimitWatch,
  type Tuned,
} from '../rules/index.ts';
import type { Tried } from './subjects.ts';

/** What a reading says of a limit; used again for each, so that millions of them leave nothing behind. */
export interface ReadingSeen {
  position: number;
  /** Its arrival, and when it was measured as far as the device's clock is known; ms UTC. */
  at: Instant;
  measuredAt: Instant;
  speedRpm: number;
  /** mm/s RMS. */
  overallMmS: number;
  synchronousMmS: number | undefined;
}

/** A hold that would have been, as long as it grows. */
type Growing = { -readonly [K in keyof Omit<HoldTried, 'heldMs'>]: HoldTried[K] };

export interface HoldOfRun {
  readonly reason: TryOutReason;
  readonly hold: Omit<HoldTried, 'heldMs'>;
}

/** Raised before the days that are looked at: it is in no list, and nothing is known of it but that it stands. */
const BEFORE: Readonly<Growing> = {
  position: 0,
  raisedAt: 0,
  lastOverAt: 0,
  measuredMmS: 0,
  limitMmS: 0,
  speedRpm: 0,
  readings: 0,
  source: '',
};

export class SpindleRun {
  readonly #limits: readonly VibrationLimit[];
  readonly #watches: readonly LimitWatch[];
  /** The places of the limits, those for the 1× part first: a hold for it takes the overall value in. */
  readonly #order: readonly number[];
  /** Used again for each reading. */
  readonly #judged = { value: 0, limit: 0, at: 0, position: 0 };
  readonly #tried: Tried;
  readonly #to: ScopedTo;
  #tuned: Tuned;
  readonly #open: { [R in TryOutReason]?: Growing | undefined } = {};
  readonly holds: HoldOfRun[] = [];

  /** `standing`: of holds on record that were raised before; none is raised beside them until they end. */
  constructor(plant: string, tried: Tried, standing: readonly TryOutReason[]) {
    const { spindleId, machine, cell, interface: taper } = tried.subject;
    this.#tried = tried;
    this.#to = { plant, machine, cell, interface: taper, spindle: spindleId, assembly: undefined };
    this.#limits = tried.limits;
    this.#watches = tried.limits.map(newWatch);
    const places = [...tried.limits.keys()];
    const isSynchronous = (place: number): boolean => tried.limits[place]?.quantity === 'synchronous';
    this.#order = [...places.filter(isSynchronous), ...places.filter((place) => !isSynchronous(place))];
    this.#tuned = tunedBy(settingsFor(tried.rows, this.#to));
    for (const reason of standing) this.#open[reason] = { ...BEFORE };
  }

  /** What is in it from now on; undefined: nothing. */
  loaded(assemblyId: string | undefined, taper: string | undefined): void {
    const to = { ...this.#to, assembly: assemblyId, interface: taper ?? this.#to.interface };
    this.#tuned = tunedBy(settingsFor(this.#tried.rows, to));
  }

  /** Whether a reading may count anything: by far most do not, and need not even be dated. */
  concerns(overallMmS: number, synchronousMmS: number | undefined): boolean {
    const limits = this.#limits;
    for (let index = 0; index < limits.length; index += 1) {
      const limit = limits[index];
      const watch = this.#watches[index];
      const value = limit?.quantity === 'overall' ? overallMmS : synchronousMmS;
      if (limit === undefined || watch === undefined || value === undefined) continue;
      if (!isAtRest(watch, value, limit.limitMmS)) return true;
    }
    return false;
  }

  /** A reading that can be judged, of which `concerns` said yes. As a rule nothing persists, and nothing is allocated. */
  take(seen: ReadingSeen): void {
    let persisting: { readonly limit: VibrationLimit; readonly readings: number }[] | undefined;
    const judged = this.#judged;
    judged.at = seen.measuredAt;
    judged.position = seen.position;
    for (const index of this.#order) {
      const limit = this.#limits[index];
      const watch = this.#watches[index];
      if (limit === undefined || watch === undefined) continue;
      const { quantity, limitMmS } = limit;
      const value = quantity === 'overall' ? seen.overallMmS : seen.synchronousMmS;
      if (value === undefined || isAtRest(watch, value, limitMmS)) continue;
      if (limitInForce(this.#limits, quantity, seen.speedRpm) !== limit) continue;
      judged.value = value;
      judged.limit = limitMmS;
      const fires = persistsWith(watch, judged, this.#tuned);
      countOver(watch, judged, this.#tuned);
      if (value > limitMmS) this.#goesOn(quantity, seen.at);
      if (fires) (persisting ??= []).push({ limit, readings: watch.count });
    }
    if (persisting === undefined) return;
    for (const { limit, readings } of persisting) this.#raise(seen, limit, readings);
  }

  #goesOn(quantity: LimitQuantity, at: Instant): void {
    const open = this.#open[REASON_OF[quantity]];
    if (open !== undefined) open.lastOverAt = at;
  }

  #raise(seen: ReadingSeen, limit: VibrationLimit, readings: number): void {
    const reason = REASON_OF[limit.quantity];
    const isUnderSynchronous =
      limit.quantity === 'overall' && this.#open['synchronous-over-limit'] !== undefined && isDominant(seen);
    if (isUnderSynchronous || this.#open[reason] !== undefined) return;
    const hold: Growing = {
      position: seen.position,
      raisedAt: seen.at,
      lastOverAt: seen.at,
      measuredMmS: limit.quantity === 'overall' ? seen.overallMmS : (seen.synchronousMmS ?? 0),
      limitMmS: limit.limitMmS,
      speedRpm: seen.speedRpm,
      readings,
      source: limit.source,
    };
    this.#open[reason] = hold;
    this.holds.push({ reason, hold });
  }

  /** Maintenance is done by the hold on record of that reason: where one would have stood, its limit is watched anew. */
  worked(reason: TryOutReason): void {
    if (this.#open[reason] === undefined) return;
    // The overall value may stand under a hold for the 1× part, so that one begins anew with it.
    for (const [index, limit] of this.#limits.entries()) {
      const watch = this.#watches[index];
      if (watch !== undefined && (reason === 'synchronous-over-limit' || limit.quantity === 'overall'))
        clearWatch(watch);
    }
  }

  /** A hold on record of that reason ended: one that would have stood would have ended with it. */
  ended(reason: TryOutReason, at: Instant): void {
    const open = this.#open[reason];
    if (open === undefined) return;
    open.endedAt = at;
    this.#open[reason] = undefined;
  }
}
