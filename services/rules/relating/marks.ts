// A reading into the mark of its load: one mark per load and speed, a new part where the vibration changes within the load.
import type { EntryOf } from '../../../shared/entries.ts';
import type { Instant } from '../../../shared/time.ts';
import type { Floor, LoadedState, MeasurementState, SpindleState } from '../floor.ts';
import { pairingOf } from '../pairing.ts';
import { heldAgainst } from '../speed-doubt.ts';
import {
  CLAMPING_RMS_SHARE,
  CLAMPING_UNKNOWN_UM,
  FIRST_LOOK_READINGS,
  HELD_MARKS_MAX,
  MARKS_MAX,
  MISREAD_ACHIEVABLE_SHARE,
  MISREAD_RECLAMPING_SHARE,
  MISREAD_UNKNOWN_GMM,
  MASS_UNKNOWN_KG,
  MOVED_SHARE,
  PART_AFTER_READINGS,
  PART_READINGS,
  PART_SQUARE_FACTOR,
  RECENT_READINGS,
  SAID_ENOUGH_MS,
} from './limits.ts';
import type { LoadMark, Relating } from './relating-state.ts';

type Summary = EntryOf<'summary'>;

/** A comparable reading, or one that only a hold keeps from being compared. Called for every such reading. */
export function takeReading(
  floor: Floor,
  relating: Relating,
  spindle: SpindleState,
  loaded: LoadedState,
  bin: number,
  entry: Summary,
  at: Instant,
): void {
  const { synchronousMmS = 0, speedRpm } = entry.data;
  if (!(synchronousMmS > 0)) return;
  const square = synchronousMmS * synchronousMmS;
  const rest = restOf(entry);
  const mark = markOf(relating, loaded, bin);
  if (mark === undefined || isOther(mark, square)) {
    begin(floor, relating, { spindle, loaded, bin, entry, at, part: mark === undefined ? 0 : mark.part + 1 });
    return;
  }
  const readings = mark.readings + 1;
  mark.readings = readings;
  mark.square += (square - mark.square) / readings;
  mark.recentSquare += (square - mark.recentSquare) / Math.min(readings, RECENT_READINGS);
  mark.restSquare += (rest - mark.restSquare) / readings;
  addPhase(mark, entry);
  addSpeed(mark, spindle, entry, at);
  mark.speedRpm += (speedRpm - mark.speedRpm) / readings;
  mark.lastAt = at;
  mark.lastPosition = entry.position;
  if (spindle.onHold) mark.held = true;
  if (isPowerOfTwo(readings) && readings >= FIRST_LOOK_READINGS && hasMoved(mark)) relating.due = true;
}

/** What is neither 1× nor 2×: misalignment and a bent drawbar show at 2×, and are no bearing's. */
function restOf({ data: { synchronousMmS = 0, secondOrderMmS = 0, overallMmS } }: Summary): number {
  return overallMmS * overallMmS - synchronousMmS * synchronousMmS - secondOrderMmS * secondOrderMmS;
}

/** The mean of unit vectors; a reading that tells no phase shortens it. */
function addPhase(mark: LoadMark, { data: { synchronousPhaseDeg } }: Summary): void {
  if (synchronousPhaseDeg === undefined && mark.phaseX === 0 && mark.phaseY === 0) return;
  const angle = ((synchronousPhaseDeg ?? 0) * Math.PI) / 180;
  const length = synchronousPhaseDeg === undefined ? 0 : 1;
  mark.phaseX += (length * Math.cos(angle) - mark.phaseX) / mark.readings;
  mark.phaseY += (length * Math.sin(angle) - mark.phaseY) / mark.readings;
}

/** Its speed held against the control's. */
function addSpeed(mark: LoadMark, { machine }: SpindleState, entry: Summary, at: Instant): void {
  const held = heldAgainst(machine, entry, at);
  if (held === 'agrees') mark.speedAgrees += 1;
  if (held === 'contradicts' || held === 'too-slow') mark.speedContradicts += 1;
}

const isPowerOfTwo = (count: number): boolean => (count & (count - 1)) === 0;

/** Whether a load has run long enough for a hold to be weighed again by it; the one that raised it has. */
export function hasSaidEnough(
  { marks }: Relating,
  { ordinal, lastAt }: LoadMark,
  raisedBy: number | undefined,
): boolean {
  const first = marks.find((mark) => mark.ordinal === ordinal);
  return ordinal === raisedBy || (first !== undefined && lastAt - first.at >= SAID_ENOUGH_MS);
}

/** Whether it was not looked at yet, or differs from what was looked at. */
export function hasMoved({ square, weighedSquare }: LoadMark): boolean {
  return Math.abs(square - weighedSquare) > MOVED_SHARE * weighedSquare;
}

/** The newest mark of this load at this speed, for the residual that is in force. */
function markOf({ marks }: Relating, { ordinal, residualGmm }: LoadedState, bin: number): LoadMark | undefined {
  for (let index = marks.length - 1; index >= 0; index -= 1) {
    const mark = marks[index];
    if (mark === undefined || mark.ordinal !== ordinal) return undefined;
    if (mark.bin === bin) return mark.residualGmm === residualGmm ? mark : undefined;
  }
  return undefined;
}

/** Whether the latest readings, this one among them, are no longer of the same mark. Counts in the mark. */
function isOther(mark: LoadMark, square: number): boolean {
  if (mark.readings < PART_AFTER_READINGS) return false;
  const off = square > mark.square * PART_SQUARE_FACTOR || square * PART_SQUARE_FACTOR < mark.square;
  mark.offInRow = off ? mark.offInRow + 1 : 0;
  return mark.offInRow >= PART_READINGS;
}

interface Beginning {
  readonly spindle: SpindleState;
  readonly loaded: LoadedState;
  readonly bin: number;
  readonly entry: Summary;
  readonly at: Instant;
  readonly part: number;
}

function begin(floor: Floor, relating: Relating, beginning: Beginning): void {
  const { spindle, loaded, bin, entry, at, part } = beginning;
  const assembly = floor.assemblies.get(loaded.assemblyId);
  const pairing = assembly === undefined ? undefined : pairingOf(assembly, loaded.buildId);
  const { synchronousMmS = 0, speedRpm } = entry.data;
  const square = synchronousMmS * synchronousMmS;
  const { buildId, build, measurement } = pairing ?? {};
  const massKg = measurement?.judgement.massKg ?? build?.massKg ?? MASS_UNKNOWN_KG;
  const um = measurement?.judgement.reclampingUm ?? build?.reclampingUm ?? CLAMPING_UNKNOWN_UM;
  // All in one step, so that what grows with each reading lies together in memory.
  relating.marks.push({
    ordinal: loaded.ordinal,
    assemblyId: loaded.assemblyId,
    buildId,
    pair: `${loaded.assemblyId}/${buildId ?? ''}/${measurement?.position ?? 0}`,
    bench: measurement?.bench,
    measured: measurement?.position ?? 0,
    residualGmm: loaded.residualGmm,
    residualAngleDeg: measurement?.judgement.angleDeg ?? 0,
    misreadGmm: misreadOf(measurement?.error, massKg),
    clampingGmm: um * massKg * CLAMPING_RMS_SHARE,
    bin,
    part,
    at,
    position: entry.position,
    lastAt: at,
    lastPosition: entry.position,
    speedRpm,
    readings: 1,
    square,
    recentSquare: square,
    offInRow: 0,
    restSquare: restOf(entry),
    phaseX: 0,
    phaseY: 0,
    speedAgrees: 0,
    speedContradicts: 0,
    weighedSquare: 0,
    held: spindle.onHold,
  });
  const mark = relating.marks.at(-1);
  if (mark !== undefined) {
    addPhase(mark, entry);
    addSpeed(mark, spindle, entry, at);
  }
  if (part > 0) relating.due = true;
  if (relating.marks.length > MARKS_MAX && !forgetHeld(relating)) relating.marks.shift();
}

/** Of what a bench says of its own error. */
function misreadOf(error: MeasurementState['error'] | undefined, massKg: number): number {
  const { smallestAchievableGmm, reclampingUm = 0 } = error ?? {};
  const read =
    smallestAchievableGmm === undefined ? MISREAD_UNKNOWN_GMM : smallestAchievableGmm * MISREAD_ACHIEVABLE_SHARE;
  return Math.hypot(read, reclampingUm * massKg * MISREAD_RECLAMPING_SHARE);
}

/** Under a hold the loads of its middle go, so that its beginning and what was before it stay. */
function forgetHeld(relating: Relating): boolean {
  const held = relating.marks.filter((mark) => mark.held);
  if (held.length <= HELD_MARKS_MAX) return false;
  const goes = held[HELD_MARKS_MAX / 2];
  relating.marks = relating.marks.filter((mark) => mark !== goes);
  return true;
}
