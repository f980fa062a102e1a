// The fold of what relates vibration to unbalance: readings into marks, marks looked at, marks that no longer speak.
import type { Entry, EntryOf } from '../../../shared/entries.ts';
import { isOpen, type Hold } from '../../../shared/holds.ts';
import type { Outcome, ReadingFeatures } from '../../../shared/outcomes.ts';
import type { Instant } from '../../../shared/time.ts';
import type { Floor, SpeedBin, SpindleState } from '../floor.ts';
import { SPEED_BIN_HALF_WIDTH_SHARE } from '../limits.ts';
import { nearestBin } from '../speed-bin.ts';
import { baseLayer } from '../layer.ts';
import { concernedHolds, isWeighed, UNEXPLAINED } from './concerned.ts';
import { beginEpisode, takeIntoEpisode } from './episodes.ts';
import { fleetPrior } from './fleet-levels.ts';
import { guessedAnew } from './guessed-anew.ts';
import { levelIn, type Guesses } from './guesses.ts';
import { learnLoad, residualSquareShown } from './learn-load.ts';
import {
  EXPECTED_LOADS_MIN,
  GUESS_SETTLED_LOADS,
  LEARN_AFTER_LOADS,
  LEARN_LOG_ODDS,
  LEARN_MARKS_MAX,
  LEVEL_KNOWN_LOADS,
  SHOWN_LOADS_MAX,
  SHOWN_LOADS_MIN,
} from './limits.ts';
import { lookAt, takeLook } from './look.ts';
import { hasSaidEnough, takeReading } from './marks.ts';
import { newBuildOdds, newRelating, newSpindleOdds, type LoadMark, type Relating } from './relating-state.ts';
import { isAccepted, toldLoadOf, type ToldLoad } from './told-load.ts';

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
  if (spindle.loaded?.ordinal === last.ordinal || last.ordinal <= relating.takenOrdinal) return;
  lookedAt(relating);
  relating.takenOrdinal = last.ordinal;
  const look = lookAt(floor, spindleId, 'whole');
  if (look !== undefined) {
    const { episodes, standing } = concernedHolds(baseLayer(floor), spindleId, look.last);
    for (const hold of episodes) takeIntoEpisode(floor, hold, look);
    if (standing.length === 0 && !look.last.held) takeLook(floor, look);
  }
  const isShown = last.residualGmm === undefined || isAccepted(last, floor.buildOdds.get(last.assemblyId));
  if (isShown && !last.held) learnShown(floor, relating, last);
  learnFrom(floor, relating);
}

/** What an unmeasured build shows, in the mean of its latest loads; nothing while something speaks of a change. */
function learnShown({ buildOdds }: Floor, relating: Relating, { ordinal, assemblyId, pair }: LoadMark): void {
  const known = buildOdds.get(assemblyId);
  const build = known?.pair === pair ? known : newBuildOdds(pair);
  const told = toldLoadOf(relating.marks, ordinal, build);
  if (told === undefined || relating.logOdds > LEARN_LOG_ODDS) return;
  const { square, loads } = build.shown ?? { square: 0, loads: 0 };
  const now = Math.min(loads + 1, SHOWN_LOADS_MAX);
  const off = residualSquareShown(relating.guesses, told) - square;
  buildOdds.set(assemblyId, { ...build, shown: { square: square + off / now, loads: now } });
}

/** Loads that nothing speaks against any more teach, the oldest first. */
function learnFrom(floor: Floor, relating: Relating): void {
  const { guesses } = relating;
  const held = new Set(relating.marks.flatMap((mark) => (mark.held ? mark.ordinal : [])));
  const free = [...new Set(relating.marks.map(({ ordinal }) => ordinal))].filter((ordinal) => !held.has(ordinal));
  const learned = new Set<number>();
  const isQuiet = relating.logOdds < LEARN_LOG_ODDS || guesses.loads < GUESS_SETTLED_LOADS;
  // Of a new spindle all teaches soon, or it would be long until anything is expected of it. The last load stays to be spoken of.
  const waits = isQuiet ? Math.max(1, Math.min(LEARN_AFTER_LOADS, guesses.loads >> 2)) : Infinity;
  let marks = relating.marks.length;
  free.forEach((ordinal, nth) => {
    const { assemblyId = '' } = relating.marks.find((mark) => mark.ordinal === ordinal) ?? {};
    const told = toldLoadOf(relating.marks, ordinal, floor.buildOdds.get(assemblyId));
    const mayWait = free.length - nth <= waits && marks <= LEARN_MARKS_MAX;
    const isLast = nth === free.length - 1;
    if (isLast || (mayWait && !(told !== undefined && isAllNew(guesses, told)))) return;
    if (told !== undefined) learnLoad(guesses, told);
    learned.add(ordinal);
    marks -= relating.marks.filter((mark) => mark.ordinal === ordinal).length;
  });
  if (learned.size > 0) relating.marks = relating.marks.filter(({ ordinal }) => !learned.has(ordinal));
}

/** Nothing is known of what it ran at: it is all that the next load there can be compared with. */
const isAllNew = (guesses: Guesses, { speeds }: ToldLoad): boolean =>
  speeds.every(({ bin }) => (levelIn(guesses, bin)?.loads ?? 0) < LEVEL_KNOWN_LOADS);

function lookedAt(relating: Relating | undefined): void {
  if (relating === undefined) return;
  relating.due = false;
  const { marks, episode } = relating;
  const last = marks.at(-1);
  // Beside a hold it has not been weighed before it says enough.
  const isHeld = last?.held === true || episode !== undefined;
  if (last === undefined || (isHeld && !hasSaidEnough(relating, last, episode?.ordinal))) return;
  for (const mark of marks) if (mark.ordinal === last.ordinal) mark.weighedSquare = mark.square;
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
    relating = newRelating(fleetPrior(floor.relating.values()));
    floor.relating.set(spindleId, relating);
  }
  relating.sensor = entry.device;
  const { bins } = spindle.live;
  const bin = bins.get(features.speedBin) ?? nearestBin(spindle.live, entry.data.speedRpm);
  if (bin === undefined) return;
  takeReading(floor, relating, spindle, spindle.loaded, speedKnownAs(relating, bin), entry, measuredAt);
}

/** More speeds are remembered here than the spindle has bins: one that was founded anew since is the same. */
function speedKnownAs({ guesses: { levels }, marks }: Relating, { bin, foundedRpm }: SpeedBin): number {
  let [nearest, least] = [bin, SPEED_BIN_HALF_WIDTH_SHARE];
  for (const level of levels) {
    if (level.bin === bin) return bin;
    const off = Math.abs(foundedRpm / level.rpm - 1);
    if (off >= least) continue;
    least = off;
    nearest = level.bin;
  }
  return nearest === bin || marks.some((mark) => mark.bin === bin) ? bin : nearest;
}

function foldOutcome(floor: Floor, outcome: Outcome): void {
  if (outcome.kind === 'hold-raised') return holdMarks(floor, outcome.hold);
  if (outcome.kind === 'cause-weighed') return foldWeighed(floor, outcome.holdId, outcome.finding.spindleId);
  if (outcome.kind !== 'hold-stepped') return;
  const hold = floor.holds.get(outcome.holdId);
  if (hold === undefined || !isWeighed(hold)) return;
  const isAnew = outcome.step.awaits === 'verification-run';
  if ((isOpen(hold) && !isAnew) || outcome.step.movedTo !== undefined) return;
  endEpisode(floor, hold);
}

/** The first weighing of a hold begins its episode. */
function foldWeighed(floor: Floor, holdId: string, spindleId: string): void {
  const relating = floor.relating.get(spindleId);
  const hold = floor.holds.get(holdId);
  if (relating === undefined || hold?.findings?.length !== 1 || relating.episode?.holdId === holdId) return;
  const before = relating.episode === undefined ? undefined : floor.holds.get(relating.episode.holdId);
  if (relating.episode !== undefined && before !== undefined && standsFor(before, hold)) {
    relating.episode = { ...relating.episode, holdId };
    return;
  }
  beginEpisode(floor, relating, holdId);
}

/** Whether a hold speaks of the same vibration from now on: in the place of one before, or beside it by the same weighing. */
const standsFor = (before: Hold, { holdId, findings }: Hold): boolean =>
  before.steps.at(-1)?.movedTo === holdId || before.findings?.at(-1)?.position === findings?.[0]?.position;

/** What led to a hold teaches nothing: the marks of that load. */
function holdMarks(floor: Floor, { subject, evidence, reason }: Hold): void {
  const spindleId = subject.kind === 'spindle' ? subject.id : evidence.spindleId;
  const relating = spindleId === undefined ? undefined : floor.relating.get(spindleId);
  const ordinal = relating?.marks.at(-1)?.ordinal;
  const isLoaded = spindleId !== undefined && floor.spindles.get(spindleId)?.loaded?.ordinal === ordinal;
  if (relating === undefined || !(isLoaded || reason === UNEXPLAINED)) return;
  for (const mark of relating.marks) if (mark.ordinal === ordinal) mark.held = true;
}

/** From its loads since the change, wherever it ran. A build that is measured again is another one here. */
function accept(floor: Floor, assemblyId: string, since: Instant): void {
  let [sum, loads] = [0, 0];
  let pair: string | undefined;
  for (const { marks, guesses } of floor.relating.values()) {
    const own = marks.filter((mark) => mark.assemblyId === assemblyId && (mark.held || mark.at >= since));
    pair = own.at(-1)?.pair ?? pair;
    for (const ordinal of new Set(own.map((mark) => mark.ordinal))) {
      const told = toldLoadOf(own, ordinal, undefined);
      if (told === undefined || guesses.loads < EXPECTED_LOADS_MIN) continue;
      sum += residualSquareShown(guesses, told);
      loads += 1;
    }
  }
  if (pair === undefined || loads === 0) return void floor.buildOdds.delete(assemblyId);
  const shown = { square: sum / loads, loads: Math.max(loads, SHOWN_LOADS_MIN) };
  floor.buildOdds.set(assemblyId, { ...newBuildOdds(pair), shown, isAccepted: true });
}

/**
 * Something was done about it, or somebody said that it is to be so: what the loads since the change showed speaks no more, and what
 * it was about is learned anew.
 */
function endEpisode(floor: Floor, { holdId, subject, evidence, findings }: Hold): void {
  const since = findings?.at(-1)?.since ?? 0;
  if (subject.kind === 'assembly') accept(floor, subject.id, since);
  if (subject.kind === 'bench') floor.benchOdds.delete(subject.id);
  for (const [spindleId, relating] of floor.relating) {
    const isSpindle = spindleId === evidence.spindleId && subject.kind === 'spindle';
    const isHere = (mark: { readonly assemblyId: string; readonly bench: string | undefined }): boolean =>
      isSpindle ||
      (subject.kind === 'assembly'
        ? mark.assemblyId === subject.id
        : subject.kind === 'bench' && mark.bench === subject.id);
    relating.marks = relating.marks.filter((mark) => !(isHere(mark) && (mark.held || mark.at >= since)));
    if (relating.episode?.holdId === holdId) relating.episode = undefined;
    if (!isSpindle) continue;
    relating.guesses = guessedAnew(relating.guesses);
    relating.odds = newSpindleOdds();
    relating.resonances = [];
    relating.logOdds = -Infinity;
  }
}
