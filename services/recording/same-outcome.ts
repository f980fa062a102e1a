// Whether two outcomes say the same to the last digit; features, which nearly all of them are, without writing them out.
import type { Outcome, ReadingFeatures } from '../../shared/outcomes.ts';

export function sameOutcome(one: Outcome | undefined, other: Outcome | undefined): boolean {
  if (one === undefined || other === undefined) return false;
  if (one.kind === 'reading-features' && other.kind === 'reading-features')
    return one.cause === other.cause && sameFeatures(one.features, other.features);
  // The order of their fields is that of the code that made them, before and after they were written down.
  return JSON.stringify(one) === JSON.stringify(other);
}

type Compared = 'speedBin' | 'loadOrdinal' | 'comparable' | 'notComparable' | 'residualGmm' | 'expectedMmS';
/** A feature that is not compared below does not compile. */
const ALL_COMPARED: [Exclude<keyof ReadingFeatures, Compared>] extends [never] ? true : never = true;

function sameFeatures(one: ReadingFeatures, other: ReadingFeatures): boolean {
  return (
    ALL_COMPARED &&
    one.speedBin === other.speedBin &&
    one.loadOrdinal === other.loadOrdinal &&
    one.comparable === other.comparable &&
    one.notComparable === other.notComparable &&
    one.residualGmm === other.residualGmm &&
    one.expectedMmS === other.expectedMmS
  );
}
