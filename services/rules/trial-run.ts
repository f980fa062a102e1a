// The run that verifies a repair: another load, of an assembly that was measured and is within, with readings below limit and expectation.
import type { EntryOf } from '../../shared/entries.ts';
import { limitInForce } from '../../shared/limit-in-force.ts';
import type { ReadingFeatures } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import type { AssemblyState, LoadedState, SpindleState, TrialRun } from './floor.ts';
import { VERIFICATION_EXPECTED_FACTOR, VERIFICATION_MS } from './limits.ts';
import { pairingOf } from './pairing.ts';
import { UNTUNED } from './settings.ts';

type Summary = EntryOf<'summary'>;
type Known = { assembly(id: string): AssemblyState | undefined };

export function newTrial({ from, fromAt }: Pick<TrialRun, 'from' | 'fromAt'>, { loadOrdinal }: SpindleState): TrialRun {
  return {
    from,
    fromAt,
    afterOrdinal: loadOrdinal,
    ordinal: 0,
    bin: 0,
    readings: 0,
    firstAt: 0,
    lastAt: 0,
    worstShare: 0,
    passed: false,
  };
}

/** Whether something was seen before the release by maintenance: it speaks neither for the repair nor against it, however late it comes. */
export const isBeforeRelease = (trial: TrialRun | undefined, measuredAt: Instant): boolean =>
  trial !== undefined && measuredAt < trial.fromAt;

/** Whether what is loaded was clamped after the release, and not only told after it. */
export const isLoadedSince = (trial: TrialRun, { ordinal, at }: Pick<LoadedState, 'ordinal' | 'at'>): boolean =>
  ordinal > trial.afterOrdinal && !isBeforeRelease(trial, at);

/** The run after a reading; undefined where the reading changes nothing of it. The run itself is left as it is. */
export function trialAfter(
  known: Known,
  spindle: SpindleState,
  entry: Summary,
  features: ReadingFeatures,
  at: Instant,
): TrialRun | undefined {
  const { trial } = spindle.live;
  if (trial === undefined || trial.passed || !isOfTrial(known, spindle, trial, features)) return undefined;
  const share = shareOf(spindle, entry, features);
  if (share === undefined) return undefined;
  const ordinal = spindle.loaded?.ordinal ?? 0;
  if (share > 1) return { ...trial, ordinal, bin: features.speedBin, readings: 0, worstShare: share };
  const goesOn = trial.readings > 0 && trial.ordinal === ordinal && trial.bin === features.speedBin;
  const readings = goesOn ? trial.readings + 1 : 1;
  const firstAt = goesOn ? trial.firstAt : at;
  return {
    ...trial,
    ordinal,
    bin: features.speedBin,
    readings,
    firstAt,
    lastAt: at,
    worstShare: goesOn ? Math.max(trial.worstShare, share) : share,
    passed: readings >= (spindle.tuned ?? UNTUNED).verificationReadings && at - firstAt >= VERIFICATION_MS,
  };
}

/** Comparable but for the hold itself, and of a load since then whose measurement is within and to be believed. */
function isOfTrial(known: Known, { loaded }: SpindleState, trial: TrialRun, features: ReadingFeatures): boolean {
  if (features.notComparable !== undefined && features.notComparable !== 'on-hold') return false;
  return loaded !== undefined && isLoadedSince(trial, loaded) && isKnownGood(known, loaded);
}

export function isKnownGood(known: Known, loaded: NonNullable<SpindleState['loaded']>): boolean {
  const assembly = known.assembly(loaded.assemblyId);
  const measurement = assembly === undefined ? undefined : pairingOf(assembly, loaded.buildId).measurement;
  return measurement?.judgement.kind === 'within' && measurement.inDoubt === undefined;
}

/** The largest share of a limit in force, or of what may be expected; undefined where there is nothing to judge by. */
function shareOf(
  { declaration }: SpindleState,
  { data }: Summary,
  { expectedMmS }: ReadingFeatures,
): number | undefined {
  const limits = declaration?.limits ?? [];
  const overall = limitInForce(limits, 'overall', data.speedRpm)?.limitMmS;
  const synchronous = limitInForce(limits, 'synchronous', data.speedRpm)?.limitMmS;
  const { overallMmS, synchronousMmS } = data;
  const shares = [
    overall === undefined ? undefined : overallMmS / overall,
    synchronous === undefined || synchronousMmS === undefined ? undefined : synchronousMmS / synchronous,
    expectedMmS === undefined || synchronousMmS === undefined
      ? undefined
      : synchronousMmS / (VERIFICATION_EXPECTED_FACTOR * expectedMmS),
  ].filter((share) => share !== undefined);
  return shares.length === 0 ? undefined : Math.max(...shares);
}
