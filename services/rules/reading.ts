// A reading beside what is known of its spindle: comparable or why not, expected 1×, and what the next live state will be.
// Deciding and folding both start from `readingOf`, so that they cannot disagree.
import type { EntryOf } from '../../shared/entries.ts';
import type { NotComparableReason, ReadingFeatures } from '../../shared/outcomes.ts';
import { isLate, measuredAtOf } from './clock.ts';
import type { Floor, SpindleLive, SpindleState } from './floor.ts';
import {
  STANDSTILL_VIBRATION_MMS,
  STUCK_READINGS,
  STUCK_READINGS_OVERALL_ONLY,
  SYNCHRONOUS_FLOOR_MMS,
  SYNCHRONOUS_OVER_OVERALL,
} from './limits.ts';
import { expectedMmS } from './response.ts';
import { speedBinOf } from './speed-bin.ts';
import { newSpindle } from './spindle-state.ts';

export interface Reading {
  readonly spindle: SpindleState;
  readonly measuredAt: number;
  readonly late: boolean;
  /** Why the signal cannot be believed; undefined where it can. */
  readonly odd: string | undefined;
  /** The same numbers as the reading before, to the last digit. */
  readonly same: boolean;
  /** Steady, not cutting, healthy, turning and in time: fit for limits. */
  readonly fit: boolean;
  readonly features: ReadingFeatures;
}

export function readingOf(floor: Floor, entry: EntryOf<'summary'>): Reading {
  const { data, at, time } = entry;
  const spindle = floor.spindles.get(data.spindleId ?? '') ?? newSpindle(data.spindleId ?? '');
  const lane = floor.devices.get(entry.device);
  const late = isLate(at, time, lane);
  const odd = oddityOf(entry);
  const why = notFit(entry, late, odd, spindle);
  const reason = why ?? notLearnable(entry, spindle);
  const speedBin = speedBinOf(data.speedRpm);
  const { loaded } = spindle;
  const expected =
    loaded?.residualGmm === undefined ? undefined : expectedMmS(spindle.live.bins.get(speedBin), loaded.residualGmm);
  return {
    spindle,
    measuredAt: measuredAtOf(at, time, lane),
    late,
    odd,
    same: isSame(spindle.live, entry),
    fit: why === undefined,
    features: {
      speedBin,
      loadOrdinal: spindle.loadOrdinal,
      comparable: reason === undefined,
      ...(reason === undefined ? {} : { notComparable: reason }),
      ...(loaded?.residualGmm === undefined ? {} : { residualGmm: Math.fround(loaded.residualGmm) }),
      ...(expected === undefined ? {} : { expectedMmS: Math.fround(expected) }),
    },
  };
}

function notFit(
  { data }: EntryOf<'summary'>,
  late: boolean,
  odd: string | undefined,
  { state, machine }: SpindleState,
): NotComparableReason | undefined {
  if (late) return 'late';
  if (odd !== undefined || state === 'implausible' || state === 'stuck') return 'sensor-fault';
  if (data.speedRpm < 1) return 'standstill';
  if (data.cutting ?? machine?.cutting ?? false) return 'cutting';
  return data.steady === false ? 'unsteady' : undefined;
}

function notLearnable({ data }: EntryOf<'summary'>, { loaded, onHold }: SpindleState): NotComparableReason | undefined {
  if (data.synchronousMmS === undefined) return 'no-synchronous';
  if (loaded === undefined) return 'nothing-loaded';
  return onHold ? 'on-hold' : undefined;
}

/** What cannot be, in words for people. */
function oddityOf({ data }: EntryOf<'summary'>): string | undefined {
  const { fault, speedRpm, overallMmS, synchronousMmS } = data;
  if (fault !== undefined && fault !== 'speed-unsteady') return `its sensor reports: ${fault}`;
  if (synchronousMmS !== undefined && synchronousMmS > overallMmS * SYNCHRONOUS_OVER_OVERALL + SYNCHRONOUS_FLOOR_MMS) {
    return 'its once-per-revolution part is larger than the whole';
  }
  if (speedRpm < 1 && overallMmS > STANDSTILL_VIBRATION_MMS) return 'it vibrates at standstill';
  return undefined;
}

function isSame(live: SpindleLive, { data }: EntryOf<'summary'>): boolean {
  return (
    live.lastReadingAt !== undefined &&
    data.speedRpm >= 1 &&
    live.overallMmS === data.overallMmS &&
    live.synchronousMmS === data.synchronousMmS &&
    live.accelerationRmsMS2 === data.accelerationRmsMS2
  );
}

export function stuckAfter(live: SpindleLive): number {
  return live.synchronousMmS === undefined ? STUCK_READINGS_OVERALL_ONLY : STUCK_READINGS;
}
