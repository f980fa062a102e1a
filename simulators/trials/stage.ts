// Where a trial takes place: a plant, a stretch of time and a spindle, all drawn from the trial's kind and seed.
import { MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR, type Instant } from '../../shared/time.ts';
import type { Scene, SimulatedAssembly } from '../assemblies.ts';
import { loadsAround } from '../life.ts';
import type { Borrow, Overlay } from '../overlay.ts';
import { makePlant, PLANT_ID, type Plant } from '../plant.ts';
import { prngOf, type Prng } from '../prng.ts';
import { planLoad, type LoadPlan } from '../shift.ts';
import type { SimulatedSpindle } from '../spindles.ts';
import { isBuiltAnewIn, SHIFT_MS, shiftOf } from '../tool-room.ts';
import type { TrialKind } from './kinds.ts';

export interface Stage {
  readonly plant: Plant;
  readonly from: Instant;
  readonly until: Instant;
  readonly intervalS: number;
  /** For everything that the kind of trial draws besides. */
  readonly prng: Prng;
}

const SPINDLES = 12;
const EPOCH = Date.UTC(2026, 0, 1);
const SHIFTS_TO_CHOOSE_FROM = 900;
const INTERVALS_S: readonly number[] = [30, 60, 60, 120];
const MAKES_ROOM_MS = 5000;

export interface StageSize {
  readonly spindles: number;
  readonly shifts: number;
  /** Between two readings of a sensor, s: one is drawn. */
  readonly intervalsS?: readonly number[];
}

export function drawStage(kind: TrialKind, seed: number, size: StageSize): Stage {
  const { spindles, shifts, intervalsS = INTERVALS_S } = size;
  const prng = prngOf('trial', kind, seed);
  const places = prng.shuffled(Array.from({ length: SPINDLES }, (_, place) => place)).slice(0, spindles);
  const plant = makePlant(prng.whole(1, 2 ** 31), PLANT_ID, places);
  const from = Math.round(EPOCH + (prng.whole(0, SHIFTS_TO_CHOOSE_FROM) + prng.next()) * SHIFT_MS);
  return { plant, from, until: from + shifts * SHIFT_MS, intervalS: prng.pick(intervalsS), prng };
}

/** An instant so many hours after the beginning, drawn. */
export function hoursIn({ from, prng }: Pick<Stage, 'from' | 'prng'>, low: number, high: number): Instant {
  return Math.round(from + prng.between(low, high) * MILLISECONDS_AN_HOUR);
}

export function minutes(prng: Prng, low: number, high: number): number {
  return Math.round(prng.between(low, high) * MILLISECONDS_A_MINUTE);
}

export interface Pair {
  readonly spindle: SimulatedSpindle;
  readonly assembly: SimulatedAssembly;
}

/** Spindles with assemblies that fit and that the tool room leaves alone for the time of the trial, in drawn order. */
export function pairsOf({ plant, from, until, prng }: Stage): Pair[] {
  const shifts = Array.from({ length: shiftOf(until) - shiftOf(from) + 2 }, (_, nth) => shiftOf(from) - 1 + nth);
  const pairs = plant.spindles.flatMap((spindle) =>
    plant.assemblies
      .filter((assembly) => assembly.interface === spindle.interface)
      .filter((assembly) => shifts.every((shift) => !isBuiltAnewIn(plant, assembly, shift)))
      .map((assembly) => ({ spindle, assembly })),
  );
  return prng.shuffled(pairs);
}

export function firstPair(stage: Stage): Pair {
  const [pair] = pairsOf(stage);
  if (pair === undefined) throw new Error('every interface has more assemblies than are built anew in a few shifts');
  return pair;
}

/** The same plant with this assembly, and no other, waiting for a scene. */
export function withScene(plant: Plant, scene: Exclude<Scene, 'shelf'>, { assemblyId }: SimulatedAssembly): Plant {
  const assemblies = plant.assemblies.map((one): SimulatedAssembly => {
    if (one.assemblyId === assemblyId) return { ...one, scene };
    return one.scene === scene ? { ...one, scene: 'shelf' } : one;
  });
  return { ...plant, assemblies };
}

export function onlyFaults(...faults: Overlay['faults']): Overlay {
  return { borrows: [], events: [], faults };
}

/** One clamping that ordinary life makes room for. */
export function borrowFor(
  { plant }: Pick<Stage, 'plant'>,
  given: Pick<LoadPlan, 'spindle' | 'assembly' | 'buildId' | 'loadAt' | 'unloadAt' | 'programmedSpeedRpm' | 'stands'>,
): Borrow {
  const load = planLoad({ ...given, overridePercent: 100 }, prngOf(plant.seed, 'borrowed', given.loadAt));
  const spindleId = given.spindle.declared.spindleId;
  return { spindleId, from: load.loadAt - MAKES_ROOM_MS, to: load.unloadAt + MAKES_ROOM_MS, loads: [load] };
}

/** What a spindle clamps between two instants, in order. */
export function loadsOf(
  { plant, from, until }: Stage,
  { index }: SimulatedSpindle,
  overlays: readonly Overlay[] = [],
): LoadPlan[] {
  const loads: LoadPlan[] = [];
  for (let shift = shiftOf(from); shift <= shiftOf(until); shift += 1) {
    const around = loadsAround(plant, shift, overlays)[index] ?? [];
    loads.push(...around.filter((load) => shiftOf(load.loadAt) === shift));
  }
  return loads.filter((load) => load.unloadAt > from && load.loadAt < until);
}
