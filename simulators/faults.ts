// Labelled faults, and what only looks like one: what, with what, from when to when. The simulator knows; the service has to find out.
import type { Subject } from '../shared/ids.ts';
import type { Instant } from '../shared/time.ts';
import { added, NOTHING, rotating, type Rotating } from './physics.ts';

export const FAULT_KINDS = [
  'residual-exceeds',
  'held-assembly-loaded',
  'wrong-pairing',
  'marked-speed-exceeded',
  'cutter-changed-unmeasured',
  'cutter-changed-untold',
  'insert-lost',
  'chip-under-taper',
  'drawbar-falling',
  'spindle-unbalance-growing',
  'bearing-defect-growing',
  'bench-scale-drifting',
  'sensor-silent',
  'sensor-offline',
  'sensor-flat',
  'sensor-clipped',
  'sensor-dead',
  'sensor-noisy',
  'sensor-incoherent',
  'sensor-stuck',
  'malformed-message',
] as const;
export type FaultKind = (typeof FAULT_KINDS)[number];

/** No faults, but a sensor sees them: hard cutting, cutting that only the control tells of, a cold spindle, a resonance. */
export const HARMLESS_KINDS = ['heavy-cutting', 'cutting-told-by-control', 'warming-up', 'resonance'] as const;
export type HarmlessKind = (typeof HARMLESS_KINDS)[number];

export interface Fault {
  readonly kind: FaultKind | HarmlessKind;
  readonly subject: Subject;
  readonly from: Instant;
  readonly to: Instant;
  /**
   * How much when fully there: g·mm for unbalance, µm for a chip, a share for scale, clamping scatter, bearing and cold,
   * mm/s for a sensor's noise, times for cutting. Absent where there is no more or less.
   */
  readonly size?: number;
  readonly angleDeg?: number;
  /** How long it takes to grow to its size; at once when absent. */
  readonly growsMs?: number;
}

/** What the faults of one spindle and its assembly come to at one instant. */
export interface Condition {
  readonly extraOwnGmm: Rotating;
  readonly extraOffsetUm: Rotating;
  /** Times the ordinary scatter of a clamping. */
  readonly scatter: number;
  /** Times the ordinary noise of the bearings, beyond 1. */
  readonly bearing: number;
  readonly sensor: 'sound' | 'silent' | 'flat' | 'clipped' | 'dead' | 'noisy' | 'incoherent' | 'stuck';
  /** What a noisy sensor adds, mm/s. */
  readonly noiseMmS: number;
  /** Times the ordinary blow of the teeth. */
  readonly cutting: number;
  /** Whether the sensor says in its readings that it cuts. */
  readonly tellsCutting: boolean;
  /** Share by which a cold spindle answers more, beyond the ordinary. */
  readonly cold: number;
}

export const SOUND: Condition = {
  extraOwnGmm: NOTHING,
  extraOffsetUm: NOTHING,
  scatter: 1,
  bearing: 0,
  sensor: 'sound',
  noiseMmS: 0,
  cutting: 1,
  tellsCutting: true,
  cold: 0,
};

export function isActive(fault: Fault, at: Instant): boolean {
  return at >= fault.from && at < fault.to;
}

function grown(fault: Fault, at: Instant): number {
  const size = fault.size ?? 0;
  if (fault.growsMs === undefined || fault.growsMs <= 0) return size;
  return size * Math.min(1, (at - fault.from) / fault.growsMs);
}

/** Folds every fault that is active for this spindle, or for the assembly in it, into one condition. */
export function conditionOf(
  faults: readonly Fault[],
  where: { readonly spindleId: string; readonly assemblyId: string | undefined; readonly at: Instant },
): Condition {
  let condition = SOUND;
  for (const fault of faults) {
    if (!isActive(fault, where.at)) continue;
    const { kind, id } = fault.subject;
    const concerns = kind === 'spindle' ? id === where.spindleId : kind === 'assembly' && id === where.assemblyId;
    if (concerns) condition = withFault(condition, fault, where.at);
  }
  return condition;
}

function withFault(condition: Condition, fault: Fault, at: Instant): Condition {
  const size = grown(fault, at);
  const vector = rotating(size, fault.angleDeg ?? 0);
  switch (fault.kind) {
    case 'spindle-unbalance-growing':
    case 'insert-lost':
    case 'cutter-changed-unmeasured':
    case 'cutter-changed-untold':
      return { ...condition, extraOwnGmm: added(condition.extraOwnGmm, vector) };
    case 'chip-under-taper':
      return { ...condition, extraOffsetUm: added(condition.extraOffsetUm, vector) };
    case 'drawbar-falling':
      return { ...condition, scatter: condition.scatter + size };
    case 'bearing-defect-growing':
      return { ...condition, bearing: condition.bearing + size };
    case 'sensor-silent':
    case 'sensor-offline':
      return { ...condition, sensor: 'silent' };
    case 'sensor-flat':
      return { ...condition, sensor: 'flat' };
    case 'sensor-clipped':
      return { ...condition, sensor: 'clipped' };
    case 'sensor-dead':
      return { ...condition, sensor: 'dead' };
    case 'sensor-noisy':
      return { ...condition, sensor: 'noisy', noiseMmS: size };
    case 'sensor-incoherent':
      return { ...condition, sensor: 'incoherent' };
    case 'sensor-stuck':
      return { ...condition, sensor: 'stuck' };
    case 'heavy-cutting':
      return { ...condition, cutting: size };
    case 'cutting-told-by-control':
      return { ...condition, tellsCutting: false };
    case 'warming-up':
      return { ...condition, cold: condition.cold + size };
    case 'resonance':
    case 'residual-exceeds':
    case 'held-assembly-loaded':
    case 'wrong-pairing':
    case 'marked-speed-exceeded':
    case 'bench-scale-drifting':
    case 'malformed-message':
      return condition;
  }
}

/** The share by which a bench reads too much (or, negative, too little) at an instant. */
export function scaleDriftOf(faults: readonly Fault[], bench: string, at: Instant): number {
  let drift = 0;
  for (const fault of faults) {
    const concerns = fault.kind === 'bench-scale-drifting' && fault.subject.id === bench;
    if (concerns && isActive(fault, at)) drift += grown(fault, at);
  }
  return drift;
}
