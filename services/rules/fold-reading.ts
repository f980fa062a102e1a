// The fold of a reading: the spindle's live part, changed in place, for nothing is touched more often.
import type { EntryOf } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import type { Outcome, ReadingFeatures } from '../../shared/outcomes.ts';
import { foldDaily } from './daily-levels.ts';
import type { Floor, SpindleState } from './floor.ts';
import { count } from './persistence.ts';
import { isJudgeable, isOverSpeed } from './reading-features.ts';
import { learn } from './response.ts';
import { foldSeverity, learnAnew } from './severity-rule.ts';
import { foldDoubt, stateWith } from './sensor-hold-rule.ts';
import { foldSignal } from './signal.ts';
import { UNTUNED } from './settings.ts';
import { takeSpeed } from './speed-bin.ts';
import { foldSpeedDoubt } from './speed-doubt.ts';
import { isBeforeRelease, trialAfter } from './trial-run.ts';
import { newTunedSpindle } from './tuning.ts';
import { judgedBy } from './vibration-rule.ts';
import { takeTurning } from './warm-up.ts';

type Summary = EntryOf<'summary'>;

/** Takes the features as they were recorded, so that thinning old readings changes nothing; changes the spindle's live part only. */
export function foldReading(
  floor: Floor,
  spindle: SpindleState,
  entry: Summary,
  outcomes: readonly Outcome[],
  features: ReadingFeatures,
  measuredAt: Instant,
): void {
  const { data } = entry;
  // That it turned meanwhile is told by readings that come late too.
  if (data.speedRpm >= 1 && features.notComparable !== 'sensor-fault') takeTurning(spindle.live, measuredAt);
  // What was measured long ago says nothing of now.
  if (features.notComparable === 'late') return foldLate(spindle, entry);
  if (spindle.live.sensor !== undefined && spindle.live.sensor !== entry.device) learnAnew(spindle.live);
  if (spindle.live.trial !== undefined) foldTrial(floor, spindle, entry, features, measuredAt);
  foldDoubt(spindle, entry, stateWith(spindle, outcomes));
  if (isJudgeable(features.notComparable)) foldJudgeable(spindle, entry, features, measuredAt);
  foldLast(spindle, entry, features, measuredAt);
}

/** A spindle that nothing was told of before. */
export function addSpindle(floor: Floor, spindleId: string): SpindleState {
  const spindle = newTunedSpindle(floor, spindleId);
  floor.spindles.set(spindleId, spindle);
  return spindle;
}

/** A run that verifies a repair goes on, is broken off by this reading, or is passed with it. */
function foldTrial(
  { assemblies }: Floor,
  spindle: SpindleState,
  entry: Summary,
  features: ReadingFeatures,
  measuredAt: Instant,
): void {
  const known = { assembly: (id: string) => assemblies.get(id) };
  const after = trialAfter(known, spindle, entry, features, measuredAt);
  if (after !== undefined) spindle.live.trial = after;
}

/** That it came is all that counts of it: a sensor whose times are old is not a silent one. */
function foldLate({ live }: SpindleState, entry: Summary): void {
  live.sensor = entry.device;
  live.lastLateAt = entry.at;
  live.lateInRow += 1;
}

function foldWatches({ declaration, live, tuned = UNTUNED }: SpindleState, entry: Summary, measuredAt: Instant): void {
  const limits = declaration?.limits;
  if (limits === undefined || isBeforeRelease(live.trial, measuredAt)) return;
  for (let index = 0; index < limits.length; index += 1) {
    const limit = limits[index];
    const watch = live.watches[index];
    if (limit === undefined || watch === undefined) continue;
    const judged = judgedBy(limit, watch, limits, entry, measuredAt);
    if (judged !== undefined) count(watch, judged, tuned);
  }
}

/** A sound reading at a steady speed, not cutting: against limits, into its speed's bin, and into what is learned there. */
function foldJudgeable(spindle: SpindleState, entry: Summary, features: ReadingFeatures, measuredAt: Instant): void {
  const { loaded, live } = spindle;
  const { overallMmS, speedRpm } = entry.data;
  foldWatches(spindle, entry, measuredAt);
  const bin = takeSpeed(live, features.speedBin, speedRpm, measuredAt);
  foldSeverity(spindle, bin, features.notComparable, overallMmS, measuredAt);
  foldDaily(bin, features.notComparable, overallMmS, entry.data.synchronousMmS, measuredAt);
  if (features.comparable && loaded !== undefined) learn(live, bin, loaded, entry.data, measuredAt);
}

function foldLast(spindle: SpindleState, entry: Summary, features: ReadingFeatures, measuredAt: Instant): void {
  const { live } = spindle;
  const { data } = entry;
  foldSignal(spindle, data);
  live.speedOverInRow = isOverSpeed(spindle, features, entry, measuredAt) ? live.speedOverInRow + 1 : 0;
  foldSpeedDoubt(spindle, features, entry, measuredAt);
  live.sensor = entry.device;
  live.heardFrom = entry.device;
  live.lastReadingAt = entry.at;
  live.lateInRow = 0;
  if (features.comparable) live.lastComparableAt = entry.at;
  live.lastPosition = entry.position;
  live.speedRpm = data.speedRpm;
  live.overallMmS = data.overallMmS;
  live.synchronousMmS = data.synchronousMmS;
  live.expectedMmS = features.expectedMmS;
  live.comparable = features.comparable;
  live.notComparable = features.notComparable;
}
