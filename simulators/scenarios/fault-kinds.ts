// What may be wrong in a long scenario, what causes it, and the label that says since when, until when, how much and in which loads.
import type { Cause } from '../../shared/causes.ts';
import type { Subject } from '../../shared/ids.ts';
import type { Instant } from '../../shared/time.ts';

export const LONG_FAULTS = [
  'cutter-changed-untold',
  'insert-lost',
  'chip-under-taper',
  'drawbar-falling',
  'own-unbalance-step',
  'own-unbalance-ramp',
  'outer-race-growing',
  'inner-race-growing',
  'bench-scale-drifting',
  'sensor-loose',
  'sensor-clipped',
  'sensor-dead',
  'sensors-swapped',
] as const;
export type LongFault = (typeof LONG_FAULTS)[number];

/** Drawn evenly by what people call them, then by how they come. */
export const FAULT_GROUPS: readonly (readonly LongFault[])[] = [
  ['cutter-changed-untold'],
  ['insert-lost'],
  ['chip-under-taper'],
  ['drawbar-falling'],
  ['own-unbalance-step'],
  ['own-unbalance-ramp'],
  ['outer-race-growing', 'inner-race-growing'],
  ['bench-scale-drifting'],
  ['sensor-loose', 'sensor-clipped', 'sensor-dead', 'sensors-swapped'],
];

/** What looks like a fault and is none. */
export const LONG_NON_FAULTS = ['new-speed', 'new-cutter-type', 'sensor-replaced', 'heavy-cutting'] as const;
export type LongNonFault = (typeof LONG_NON_FAULTS)[number];

export const CAUSE_OF: Readonly<Record<LongFault, Cause>> = {
  'cutter-changed-untold': 'assembly',
  'insert-lost': 'assembly',
  'chip-under-taper': 'clamping',
  'drawbar-falling': 'drawbar',
  'own-unbalance-step': 'spindle',
  'own-unbalance-ramp': 'spindle',
  'outer-race-growing': 'bearing',
  'inner-race-growing': 'bearing',
  'bench-scale-drifting': 'bench',
  'sensor-loose': 'sensor',
  'sensor-clipped': 'sensor',
  'sensor-dead': 'sensor',
  'sensors-swapped': 'sensor',
};

/** Vectors in g·mm from the spindle's mark where the taper is keyed, else the assembly's from its own. */
export interface Turning {
  readonly residualX: number;
  readonly residualY: number;
  readonly ownX: number;
  readonly ownY: number;
  /** Root mean square of mass × offset of a clamping. */
  readonly clampingGmm: number;
  /** An offset more, of this size, at an angle that nobody knows. */
  readonly strayGmm: number;
  /** Logarithm of the broadband part's factor. */
  readonly logFloor: number;
}

/** One load as it truly was, and what a perfect memory of its comparable readings would hold. */
export interface LoadFact {
  readonly nth: number;
  readonly spindleId: string;
  readonly assemblyId: string;
  readonly buildId: string;
  readonly benchId: string;
  readonly at: Instant;
  until: Instant;
  readonly keyed: boolean;
  readonly tacho: boolean;
  /** Of one reading's 1× part, as a share; and of its broadband part from load to load, in its logarithm. */
  readonly readingNoise: number;
  readonly floorSpread: number;
  /** Comparable readings; sums of their 1× part in g·mm: of its square, of its parts; of the logarithm of the broadband part. */
  readings: number;
  sumSquares: number;
  sumX: number;
  sumY: number;
  sumLogFloor: number;
}

/** Any load with all that truly turned in it. */
export interface WholeLoad {
  readonly load: LoadFact;
  readonly turning: Turning;
}

export interface AffectedLoad {
  readonly load: LoadFact;
  readonly without: Turning;
  readonly with: Turning;
}

export interface LongLabel {
  readonly kind: LongFault;
  readonly cause: Cause;
  readonly subject: Subject;
  /** Whatever may rightly be named as what it is of: the assembly or its builds, the spindle, the bench, the sensor. */
  readonly names: Set<string>;
  readonly from: Instant;
  to: Instant;
  /** Planted while another one was going on at the same spindle. */
  readonly mixed: boolean;
  readonly loads: AffectedLoad[];
  /** Loads until it has its whole size; 0 at once. */
  readonly rampLoads: number;
  /** Factor of the broadband part; undefined where it is none of a bearing. */
  readonly floorFactor: number | undefined;
}

export interface NonFaultLabel {
  readonly kind: LongNonFault;
  readonly subject: Subject;
  readonly from: Instant;
}

/** What a hold or a state is about. */
export interface About {
  readonly at: Instant;
  readonly subject: Subject;
  readonly spindleId?: string | undefined;
  readonly assemblyId?: string | undefined;
}

/** What is said a little after a load may still be about it. */
const AFTER_LOAD_MS = 3 * 60 * 60_000;
/** And what ended may be spoken of until the next tick and reading. */
const AFTER_END_MS = 30 * 60_000;

/** Whether what was told may be of this fault: its subject, or what an affected load was in or of, while it went on. */
export function accountsFor(label: LongLabel, { at, subject, spindleId, assemblyId }: About): boolean {
  if (at < label.from) return false;
  if (isSubject(label, subject)) return at <= label.to + AFTER_END_MS;
  for (let nth = label.loads.length - 1; nth >= 0; nth -= 1) {
    const load = label.loads[nth]?.load;
    if (load === undefined || load.at > at || at > load.until + AFTER_LOAD_MS) continue;
    if (subject.id === load.spindleId || subject.id === load.assemblyId) return true;
    if (spindleId === load.spindleId || assemblyId === load.assemblyId) return true;
  }
  return false;
}

export function isSubject(label: LongLabel, subject: Subject): boolean {
  return subject.kind === label.subject.kind && (subject.id === label.subject.id || label.names.has(subject.id));
}

/** The square of the 1× that is to be expected, over the clampings and, where the taper is not keyed, over the angle; (g·mm)². */
export function expectedSquare(turning: Turning, keyed: boolean): number {
  const { residualX, residualY, ownX, ownY, clampingGmm, strayGmm } = turning;
  const apart = residualX * residualX + residualY * residualY + ownX * ownX + ownY * ownY;
  const together = keyed ? 2 * (residualX * ownX + residualY * ownY) : 0;
  return apart + together + clampingGmm * clampingGmm + strayGmm * strayGmm;
}

/** By what it multiplies the 1× that is to be expected: the median over its loads with its whole size; undefined without any. */
export function factorOf({ loads, rampLoads }: LongLabel): number | undefined {
  const whole = loads.slice(Math.min(rampLoads, Math.max(0, loads.length - 1)));
  const factors = whole
    .map(({ load, without, with: turning }) =>
      Math.sqrt(expectedSquare(turning, load.keyed) / expectedSquare(without, load.keyed)),
    )
    .toSorted((a, b) => a - b);
  return factors[factors.length >> 1];
}
