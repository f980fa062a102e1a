// The informed detector: told the fault's kind, its size and all true parameters, a likelihood ratio over the affected loads (Page
// 1954) with the threshold at which it is wrong as seldom as the aim for the rules allows. Nothing can be much sooner.
import { prngOf, type AffectedLoad, type LongLabel } from '../../../simulators/index.ts';
import { draw, logRatio, seenIn } from './likelihood.ts';

/** Spindle-days for one false hold: 0.5 in a thousand. */
export const SPINDLE_DAYS_PER_FALSE = 2000;
/** The threshold is found at a lower one, where false alarms come often enough to be counted, and carried over by e^h (Wald 1945). */
const COUNTED_AT = 2;
const COUNTED_LOADS = 6000;
const LOADS_LOOKED_AT_MAX = 200;

/** Kinds that a load's 1× or broadband part shows; a failing sensor shows itself within its first readings. */
const SHOWN_BY_LOADS: ReadonlySet<LongLabel['kind']> = new Set([
  'cutter-changed-untold',
  'insert-lost',
  'chip-under-taper',
  'drawbar-falling',
  'own-unbalance-step',
  'own-unbalance-ramp',
  'outer-race-growing',
  'inner-race-growing',
  'bench-scale-drifting',
]);

export const isShownByLoads = ({ kind }: LongLabel): boolean => SHOWN_BY_LOADS.has(kind);

/** What a detector is asked of. */
export const loadsLookedAt = ({ loads }: LongLabel): readonly AffectedLoad[] => loads.slice(0, LOADS_LOOKED_AT_MAX);

/** Affected loads until it is sure, the first one counted; undefined where it never is within the label and 200 loads. */
export function informedLoads(label: LongLabel, loadsPerSpindleDay: number): number | undefined {
  const loads = loadsLookedAt(label);
  const telling = loads.filter(({ load }) => load.readings > 0);
  if (telling.length === 0) return undefined;
  const threshold = thresholdOf(label, telling, loadsPerSpindleDay);
  let sum = 0;
  for (const [index, one] of loads.entries()) {
    if (one.load.readings === 0) continue;
    sum = Math.max(0, sum) + logRatio(one, seenIn(one.load));
    if (sum >= threshold) return index + 1;
  }
  return undefined;
}

/** Loads that nothing is wrong with, drawn as these would have been, until so many alarms as the aim allows would come. */
function thresholdOf(label: LongLabel, loads: readonly AffectedLoad[], loadsPerSpindleDay: number): number {
  const prng = prngOf('informed', label.kind, label.subject.id, label.from);
  const chance = { next: () => prng.next(), gaussian: () => prng.gaussian() };
  let sum = 0;
  let alarms = 0;
  for (let nth = 0; nth < COUNTED_LOADS; nth += 1) {
    const one = loads[nth % loads.length];
    if (one === undefined) break;
    sum = Math.max(0, sum) + logRatio(one, draw({ load: one.load, turning: one.without }, chance));
    if (sum < COUNTED_AT) continue;
    alarms += 1;
    sum = 0;
  }
  const between = COUNTED_LOADS / Math.max(1, alarms);
  return Math.max(0, COUNTED_AT + Math.log((loadsPerSpindleDay * SPINDLE_DAYS_PER_FALSE) / between));
}
