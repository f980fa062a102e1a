// The fold of what relates vibration to unbalance: readings into marks, marks looked at, marks that no longer speak.
import type { Entry, EntryOf } from '../../../shared/entries.ts';
import { isOpen, type Hold } from '../../../shared/holds.ts';
import type { Outcome, ReadingFeatures } from '../../../shared/outcomes.ts';
import type { Instant } from '../../../shared/time.ts';
import type { Floor, SpindleState } from '../floor.ts';
import { nearestBin } from '../speed-bin.ts';
import { isWeighed, UNEXPLAINED } from './concerned.ts';
import { learnAnewAfter } from './learned.ts';
import { takeReading } from './marks.ts';
import { takeEnded } from './screen.ts';
import { newRelating, type Relating } from './relating-state.ts';

/** After the entry itself was folded; of a reading its further outcomes, after `relateReading`. */
export function foldRelating(floor: Floor, entry: Entry, outcomes: readonly Outcome[]): void {
  for (const outcome of outcomes) foldOutcome(floor, outcome);
  // What was put on hold with it is known before a load that ended teaches anything.
  if (entry.kind === 'load') foldEnded(floor, entry.data.spindleId);
}

/** A load has ended, whatever came after it. */
function foldEnded(floor: Floor, spindleId: string): void {
  const relating = floor.relating.get(spindleId);
  const spindle = floor.spindles.get(spindleId);
  const last = relating?.marks.at(-1);
  if (relating === undefined || spindle === undefined || last === undefined) return;
  if (spindle.loaded?.ordinal === last.ordinal || relating.takenOrdinal === last.ordinal) return;
  lookedAt(relating);
  relating.takenOrdinal = last.ordinal;
  for (const mark of relating.marks)
    if (mark.ordinal === last.ordinal && !mark.held) takeEnded(spindle, relating, mark);
}

function lookedAt(relating: Relating | undefined): void {
  if (relating === undefined) return;
  relating.due = false;
  const ordinal = relating.marks.at(-1)?.ordinal;
  for (const mark of relating.marks) if (mark.ordinal === ordinal) mark.weighedSquare = mark.square;
}

/** A reading after it was folded into its spindle. */
export function relateReading(
  floor: Floor,
  spindle: SpindleState,
  entry: EntryOf<'summary'>,
  features: ReadingFeatures,
  measuredAt: Instant,
): void {
  const { spindleId } = spindle;
  let relating = floor.relating.get(spindleId);
  if (relating?.due === true) lookedAt(relating);
  if (spindle.loaded === undefined || !(features.comparable || features.notComparable === 'on-hold')) return;
  if (entry.data.synchronousMmS === undefined) return;
  if (relating === undefined || (relating.sensor !== undefined && relating.sensor !== entry.device)) {
    // Another sensor has another gain: what was usual before says nothing of what it tells.
    relating = newRelating();
    floor.relating.set(spindleId, relating);
  }
  relating.sensor = entry.device;
  const { bins } = spindle.live;
  const bin = bins.has(features.speedBin) ? features.speedBin : nearestBin(spindle.live, entry.data.speedRpm)?.bin;
  if (bin === undefined) return;
  takeReading(floor, relating, spindle, spindle.loaded, bin, entry, measuredAt);
}

function foldOutcome(floor: Floor, outcome: Outcome): void {
  if (outcome.kind === 'hold-raised') return holdMarks(floor, outcome.hold);
  if (outcome.kind !== 'hold-stepped') return;
  const hold = floor.holds.get(outcome.holdId);
  if (hold === undefined || !isWeighed(hold)) return;
  const isAnew = outcome.step.awaits === 'verification-run';
  if ((isOpen(hold) && !isAnew) || outcome.step.movedTo !== undefined) return;
  endEpisode(floor, hold);
}

/** What led to a hold teaches nothing: the marks of that load. */
function holdMarks(floor: Floor, { subject, evidence, reason }: Hold): void {
  const spindleId = subject.kind === 'spindle' ? subject.id : evidence.spindleId;
  const relating = spindleId === undefined ? undefined : floor.relating.get(spindleId);
  const ordinal = relating?.marks.at(-1)?.ordinal;
  const isLoaded = spindleId !== undefined && floor.spindles.get(spindleId)?.loaded?.ordinal === ordinal;
  if (relating === undefined || !(isLoaded || reason === UNEXPLAINED)) return;
  for (const mark of relating.marks) if (mark.ordinal === ordinal) mark.held = true;
}

/**
 * Something was done about it, or somebody said that it is to be so: what the loads since the change showed speaks no more, and what
 * it was about is learned anew.
 */
function endEpisode(floor: Floor, { subject, evidence, findings }: Hold): void {
  const since = findings?.at(-1)?.since ?? 0;
  for (const [spindleId, relating] of floor.relating) {
    const isSpindle = spindleId === evidence.spindleId && subject.kind === 'spindle';
    const isHere = (mark: { readonly assemblyId: string; readonly bench: string | undefined }): boolean =>
      isSpindle ||
      (subject.kind === 'assembly'
        ? mark.assemblyId === subject.id
        : subject.kind === 'bench' && mark.bench === subject.id);
    if (!isSpindle && !relating.marks.some(isHere)) continue;
    relating.marks = relating.marks.filter((mark) => !(isHere(mark) && (mark.held || mark.at >= since)));
    learnAnewAfter(relating, subject);
  }
}
