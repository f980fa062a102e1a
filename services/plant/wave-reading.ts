// What the analysis of a raw window says → the reading that is made of it, or why none is.
import { say } from '../../shared/language/index.ts';
import { SIGNAL_FAULTS, Summary } from '../../shared/messages/index.ts';
import type { HealthFinding, HealthKind, WaveAnalysis } from '../../shared/wave-analysis.ts';

export type WaveReading =
  | { readonly kind: 'reading'; readonly data: Summary }
  | { readonly kind: 'none'; readonly why: string };

/**
 * Both are of the same samples: a 1× part above so many times the whole lies outside of the band that a person gave, and says nothing
 * against the sensor.
 */
const PART_OVER_WHOLE = 1.05;

/** A reading is steady within this, in percent: what `steady` of a summary means. */
const STEADY_PERCENT = 1;

/** A summary like that of a sensor which makes its own. */
export function readingOfWave(spindleId: string, analysis: WaveAnalysis): WaveReading {
  const { speedRpm } = analysis;
  if (speedRpm === undefined)
    return { kind: 'none', why: say`the speed is not known, and no order was found that tells it` };
  const first = analysis.orders.find(({ order }) => order === 1);
  const second = analysis.orders.find(({ order }) => order === 2);
  const spread = analysis.speedSpreadPercent;
  const has = (kind: HealthKind): boolean => analysis.health.some((finding) => finding.kind === kind);
  // Orders of a speed that it does not turn with are nobody's.
  const isOfThisSpeed = !has('wrong-speed');
  const isInBand = first === undefined || first.velocityMmS <= PART_OVER_WHOLE * analysis.overallMmS;
  const fields: Partial<Record<keyof Summary, unknown>> = {
    spindleId,
    speedRpm,
    overallMmS: analysis.overallMmS,
    ...(isOfThisSpeed
      ? {
          synchronousMmS: isInBand ? first?.velocityMmS : undefined,
          // Where many marks are missing, the speed holds and the phase does not.
          synchronousPhaseDeg: lacksMarks(analysis.health) || !isInBand ? undefined : first?.phaseDeg,
          secondOrderMmS: second?.velocityMmS,
        }
      : {}),
    accelerationRmsMS2: analysis.accelerationRmsMS2,
    accelerationPeakMS2: analysis.accelerationPeakMS2,
    kurtosis: analysis.kurtosis,
    envelopeMS2: analysis.envelope?.rmsMS2,
    cutting: analysis.cutting,
    steady: spread === undefined ? undefined : spread <= STEADY_PERCENT,
    fault: faultOf(analysis.health),
  };
  const said = Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));
  // An import reads it like any sensor's: what that would refuse is not put on record here.
  const read = Summary.safeParse(said);
  if (read.success) return { kind: 'reading', data: read.data };
  const [field] = read.error.issues[0]?.path ?? [];
  const words = FIELD_WORDS.get(String(field)) ?? say`a value`;
  return { kind: 'none', why: say`${words} is beyond what a reading can have` };
}

function lacksMarks(health: readonly HealthFinding[]): boolean {
  return health.some(({ kind, weight }) => kind === 'tacho-missing' && weight !== 'doubtful');
}

/** What can be beyond what a reading can have. */
const FIELD_WORDS: ReadonlyMap<string, string> = new Map<keyof Summary, string>([
  ['speedRpm', say`the speed`],
  ['overallMmS', say`the overall velocity`],
  ['synchronousMmS', say`the 1× part of the velocity`],
  ['secondOrderMmS', say`the 2× part of the velocity`],
  ['accelerationRmsMS2', say`the acceleration`],
  ['accelerationPeakMS2', say`the peak of the acceleration`],
  ['kurtosis', say`the kurtosis`],
  ['envelopeMS2', say`the envelope`],
]);

/** The graver first. */
const SPEED_FAULTS = ['wrong-speed', 'speed-unsteady'] as const;

/** The signal's worst, in the words that a sensor has for it. */
function faultOf(health: readonly HealthFinding[]): Summary['fault'] {
  const unusable = health.find(({ weight }) => weight === 'unusable');
  if (unusable !== undefined) return SIGNAL_FAULTS.find((fault) => fault === unusable.kind) ?? 'implausible';
  // What hangs on the speed is not to be compared. Marks that are missing take the phase only.
  return SPEED_FAULTS.find((fault) => health.some(({ kind }) => kind === fault));
}
