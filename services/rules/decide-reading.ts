// Deciding of a vibration reading, the most frequent entry by far: as a rule nothing is made but its features.
import type { EntryOf } from '../../shared/entries.ts';
import type { Outcome, ReadingFeatures, SubjectState } from '../../shared/outcomes.ts';
import { aheadRule } from './ahead-rule.ts';
import { measuredAtOf } from './clock.ts';
import type { DeviceState, Floor, SpindleState, TrialRun } from './floor.ts';
import { answerGate } from './gate-told.ts';
import { trialLayer } from './layer.ts';
import { SPEED_OVER_READINGS } from './limits.ts';
import { pairedIn } from './paired.ts';
import { Outcomes } from './raising.ts';
import { featuresOf, isJudgeable, isOverSpeed } from './reading-features.ts';
import { settle } from './release.ts';
import { sensorDoubted, sensorHoldRule } from './sensor-hold-rule.ts';
import { severityRule } from './severity-rule.ts';
import { signalCounts, stateAfter, toldBy } from './signal.ts';
import { speedDoubtRemark } from './speed-doubt.ts';
import { speedRule, speedsOf } from './speed-rule.ts';
import { trialAfter } from './trial-run.ts';
import { persisting, vibrationRule, type Persisting } from './vibration-rule.ts';

type Summary = EntryOf<'summary'>;

/** `spindle` and `lane`: those that the reading names, where they are known. */
export function decideReading(
  floor: Floor,
  entry: Summary,
  spindle: SpindleState | undefined,
  lane: DeviceState | undefined,
): readonly Outcome[] {
  const { data, position: cause, at, time } = entry;
  const measuredAt = measuredAtOf(at, time, lane);
  const features = featuresOf(spindle, entry, measuredAt);
  const first: Outcome = { cause, kind: 'reading-features', features };
  // Late vibration is kept, marked, and raises nothing by itself.
  if (spindle === undefined || features.notComparable === 'late') return [first];
  // Who told it is looked for only where there is something told.
  const by = data.fault === undefined ? undefined : toldBy(entry);
  const state = stateAfter(spindle, data, signalCounts(spindle, data, by));
  const after = state?.state ?? spindle.state;
  const judgeable = isJudgeable(features.notComparable);
  const found = judgeable ? persisting(spindle, entry, measuredAt) : undefined;
  const bin = judgeable ? spindle.live.bins.get(features.speedBin) : undefined;
  const moves = judgeable ? severityRule(spindle, bin, entry, features, measuredAt) : undefined;
  const ahead = judgeable ? aheadRule(spindle, bin, entry, features, measuredAt) : undefined;
  const overSpeed =
    isOverSpeed(spindle, features, entry, measuredAt) && spindle.live.speedOverInRow + 1 >= SPEED_OVER_READINGS;
  const doubted = sensorDoubted(spindle, entry, after) ? (state?.why ?? spindle.stateWhy) : undefined;
  const remark = speedDoubtRemark(spindle, features, entry, measuredAt);
  const trial = spindle.live.trial === undefined ? undefined : trialOf(floor, spindle, entry, features, measuredAt);
  const settles = trial?.passed === true || mayBeSound(spindle, entry, after);
  if (
    state === undefined &&
    found === undefined &&
    moves === undefined &&
    ahead === undefined &&
    !overSpeed &&
    doubted === undefined &&
    remark === undefined &&
    !settles
  )
    return [first];
  const outcomes: Outcome[] = [first];
  if (state !== undefined)
    outcomes.push({ cause, kind: 'state-changed', subject: { kind: 'spindle', id: spindle.spindleId }, ...state });
  if (remark !== undefined)
    outcomes.push({ cause, kind: 'remarked', subject: { kind: 'spindle', id: spindle.spindleId }, remark });
  if (moves !== undefined) outcomes.push(...moves);
  if (ahead !== undefined) outcomes.push(...ahead);
  if (found !== undefined || overSpeed || doubted !== undefined || settles)
    outcomes.push(...heldBy(floor, entry, { ...spindle, state: after }, { found, overSpeed, doubted, trial }));
  return outcomes;
}

interface Findings {
  readonly found: readonly Persisting[] | undefined;
  readonly overSpeed: boolean;
  /** Why its sensor is held with this reading. */
  readonly doubted: string | undefined;
  readonly trial: TrialRun | undefined;
}

const trialOf = (
  { assemblies }: Floor,
  spindle: SpindleState,
  entry: Summary,
  features: ReadingFeatures,
  measuredAt: number,
): TrialRun | undefined => trialAfter({ assembly: (id) => assemblies.get(id) }, spindle, entry, features, measuredAt);

/** Its sensor speaks well again, or is another one: what was held for it may end. */
const mayBeSound = ({ onHold, state, live }: SpindleState, { device }: Summary, after: SubjectState): boolean =>
  onHold && after === 'reporting' && (state !== after || live.heardFrom !== device);

function heldBy(
  floor: Floor,
  entry: Summary,
  spindle: SpindleState,
  { found, overSpeed, doubted, trial }: Findings,
): readonly Outcome[] {
  const layer = trialLayer(floor);
  // As the fold will have it, for what ends a hold is looked up there.
  const live = { ...spindle.live, heardFrom: entry.device, trial: trial ?? spindle.live.trial };
  layer.putSpindle({ ...spindle, live });
  const outcomes = new Outcomes(layer, entry);
  if (found !== undefined) vibrationRule(outcomes, spindle, entry, found);
  const paired = overSpeed ? pairedIn(layer, spindle.spindleId) : undefined;
  if (paired !== undefined) {
    const speeds = { ...speedsOf(spindle.machine), actualRpm: entry.data.speedRpm };
    speedRule(outcomes, paired, speeds, false);
  }
  if (doubted !== undefined) sensorHoldRule(outcomes, spindle, entry, doubted);
  settle(outcomes, { kind: 'spindle', id: spindle.spindleId });
  if (outcomes.list.length > 0) answerGate(layer, outcomes, spindle.spindleId);
  return outcomes.list;
}
