// What a reading was worth when it came: its speed bin, its load, whether it can be compared, what was to be expected.
import type { EntryOf } from '../../shared/entries.ts';
import type { NotComparableReason, ReadingFeatures } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import type { SpindleState } from './floor.ts';
import { LATE_MS, SPEED_TOLERANCE_SHARE } from './limits.ts';
import { expectedMmS } from './response.ts';
import { isWorkedOn } from './planned-work.ts';
import { oddityOf, velocityBandOf } from './signal.ts';
import { speedBinOf } from './speed-bin.ts';
import { isSpeedDoubted } from './speed-doubt.ts';
import { isCold } from './warm-up.ts';

type Summary = EntryOf<'summary'>;

/**
 * Why a reading cannot be compared with others of its speed; the reason that lies nearest to the signal comes first. When it was
 * measured is found once for a reading and handed on, here and below.
 */
export function notComparable(
  spindle: SpindleState | undefined,
  entry: Summary,
  measuredAt: Instant,
): NotComparableReason | undefined {
  const { data } = entry;
  if (entry.at - measuredAt > LATE_MS) return 'late';
  if (data.fault === 'speed-unsteady') return 'unsteady';
  if (data.fault === 'wrong-speed') return 'wrong-speed';
  if (oddityOf(data, 'sensor', velocityBandOf(spindle)) !== undefined || isDistrusted(spindle)) return 'sensor-fault';
  if (data.speedRpm < 1) return 'standstill';
  if (data.steady === false) return 'unsteady';
  if (data.cutting ?? spindle?.machine?.cutting ?? false) return 'cutting';
  if (spindle !== undefined && spindle.work.length > 0 && isWorkedOn(spindle.work, measuredAt)) return 'planned-work';
  if (spindle !== undefined && isCold(spindle.live, measuredAt)) return 'cold';
  if (spindle?.loaded === undefined || isBeforeLoad(spindle, entry, measuredAt)) return 'nothing-loaded';
  if (data.synchronousMmS === undefined) return 'no-synchronous';
  return spindle.onHold ? 'on-hold' : undefined;
}

/** A reading that waited in its sensor may have been measured before what is clamped now: it says nothing of that. */
function isBeforeLoad({ loaded }: SpindleState, { time }: Summary, measuredAt: Instant): boolean {
  return loaded !== undefined && time !== undefined && measuredAt < loaded.at;
}

function isDistrusted(spindle: SpindleState | undefined): boolean {
  return spindle?.state === 'implausible' || spindle?.state === 'stuck';
}

/** Reasons that speak against learning from a reading, not against its value: limits are judged all the same. */
export function isJudgeable(reason: NotComparableReason | undefined): boolean {
  switch (reason) {
    case undefined:
    case 'nothing-loaded':
    case 'no-synchronous':
    case 'on-hold':
    case 'cold':
      return true;
    case 'cutting':
    case 'unsteady':
    case 'wrong-speed':
    case 'sensor-fault':
    case 'standstill':
    case 'planned-work':
    case 'late':
      return false;
  }
}

export function featuresOf(spindle: SpindleState | undefined, entry: Summary, measuredAt: Instant): ReadingFeatures {
  const speedBin = speedBinOf(spindle?.live, entry.data.speedRpm);
  const reason = notComparable(spindle, entry, measuredAt);
  const features: { -readonly [K in keyof ReadingFeatures]: ReadingFeatures[K] } = {
    speedBin,
    loadOrdinal: spindle?.loadOrdinal ?? 0,
    comparable: reason === undefined,
  };
  if (reason !== undefined) features.notComparable = reason;
  const residualGmm = spindle?.loaded?.residualGmm;
  if (spindle === undefined || residualGmm === undefined || isBeforeLoad(spindle, entry, measuredAt)) return features;
  // Single precision, as readings are kept: what was recorded and what was decided are the same number.
  features.residualGmm = Math.fround(residualGmm);
  const expected = expectedMmS(spindle, speedBin, residualGmm);
  if (expected !== undefined) features.expectedMmS = Math.fround(expected);
  return features;
}

/**
 * Whether a sound reading turns faster than any rule about its pairing allows, the wander of speeds left aside. Not where the
 * control says that it does not: that is a matter of the sensor.
 */
export function isOverSpeed(
  spindle: SpindleState,
  features: ReadingFeatures,
  entry: Summary,
  measuredAt: Instant,
): boolean {
  const { loaded } = spindle;
  if (loaded === undefined || entry.data.speedRpm <= loaded.speedBoundRpm * (1 + SPEED_TOLERANCE_SHARE)) return false;
  if (isBeforeLoad(spindle, entry, measuredAt)) return false;
  const reason: NotComparableReason | undefined = features.notComparable;
  switch (reason) {
    case undefined:
    case 'cutting':
    case 'nothing-loaded':
    case 'no-synchronous':
    case 'on-hold':
    case 'cold':
    case 'planned-work':
      return !isSpeedDoubted(spindle, entry, measuredAt);
    case 'wrong-speed':
    case 'unsteady':
    case 'sensor-fault':
    case 'standstill':
    case 'late':
      return false;
  }
}
