// What the analysis of a raw window says → the reading that is made of it, or why none is.
import { SIGNAL_FAULTS, Summary } from '../../shared/messages/index.ts';
import type { HealthFinding, WaveAnalysis } from '../../shared/wave-analysis.ts';

export type WaveReading =
  | { readonly kind: 'reading'; readonly data: Summary }
  | { readonly kind: 'none'; readonly why: string };

/** A reading is steady within this, in percent: what `steady` of a summary means. */
const STEADY_PERCENT = 1;

/** A summary like that of a sensor which makes its own. */
export function readingOfWave(spindleId: string, analysis: WaveAnalysis): WaveReading {
  const { speedRpm } = analysis;
  if (speedRpm === undefined)
    return { kind: 'none', why: 'the speed is not known, and no order was found that tells it' };
  const first = analysis.orders.find(({ order }) => order === 1);
  const second = analysis.orders.find(({ order }) => order === 2);
  const spread = analysis.speedSpreadPercent;
  const fields: Record<keyof Summary, unknown> = {
    spindleId,
    speedRpm,
    overallMmS: analysis.overallMmS,
    synchronousMmS: first?.velocityMmS,
    synchronousPhaseDeg: first?.phaseDeg,
    secondOrderMmS: second?.velocityMmS,
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
  const [issue] = read.error.issues;
  return { kind: 'none', why: `${issue?.path.join('.') ?? 'a value'} is none that a reading can have` };
}

/** The signal's worst, in the words that a sensor has for it. */
function faultOf(health: readonly HealthFinding[]): Summary['fault'] {
  const worst = health.find(({ weight }) => weight === 'unusable') ?? health.find(({ weight }) => weight === 'speed');
  if (worst === undefined) return undefined;
  // What hangs on the speed is not to be compared, as in a window in which it changed; the rest is.
  if (worst.weight === 'speed') return 'speed-unsteady';
  return SIGNAL_FAULTS.find((fault) => fault === worst.kind) ?? 'implausible';
}
