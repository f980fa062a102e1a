// What the rules made of an input: journalled beside it, so that state is a fold and never decided twice.
import type { LimitAhead } from './ahead.ts';
import type { Escalation } from './answering.ts';
import type { CauseFinding } from './causes.ts';
import type { Position } from './entries.ts';
import type { GateAnswer } from './gate.ts';
import type { OverrideKept } from './headroom.ts';
import type { Hold, HoldStep } from './holds.ts';
import type { HoldActName } from './acts.ts';
import type { Subject } from './ids.ts';
import type { SeverityChange } from './severity.ts';

export const NOT_COMPARABLE_REASONS = [
  'cutting',
  'unsteady',
  'sensor-fault',
  'standstill',
  'nothing-loaded',
  'late',
  'no-synchronous',
  'on-hold',
  'cold',
  'wrong-speed',
  'planned-work',
] as const;
export type NotComparableReason = (typeof NOT_COMPARABLE_REASONS)[number];

/** Made when the reading arrived and kept with it: thinning old readings changes no decision. */
export interface ReadingFeatures {
  readonly speedBin: number;
  /** How many loads this spindle had seen; 0 before the first. */
  readonly loadOrdinal: number;
  readonly comparable: boolean;
  readonly notComparable?: NotComparableReason;
  /** The residual in force of what was loaded, g·mm; absent when unknown. */
  readonly residualGmm?: number;
  /** What the spindle's response so far would make of that residual, mm/s RMS; absent while not learned. */
  readonly expectedMmS?: number;
}

/** `mistimed`: readings come, but bear times so old that they say nothing of now. */
export const SUBJECT_STATES = ['reporting', 'silent', 'implausible', 'offline', 'stuck', 'mistimed'] as const;
export type SubjectState = (typeof SUBJECT_STATES)[number];

interface Caused {
  readonly cause: Position;
}

export type Outcome =
  | (Caused & { readonly kind: 'reading-features'; readonly features: ReadingFeatures })
  | (Caused & { readonly kind: 'hold-raised'; readonly hold: Hold })
  | (Caused & { readonly kind: 'hold-repeated'; readonly holdId: string })
  | (Caused & { readonly kind: 'hold-stepped'; readonly holdId: string; readonly step: HoldStep })
  | (Caused & {
      readonly kind: 'act-refused';
      readonly holdId: string;
      readonly act: HoldActName;
      readonly why: string;
    })
  | (Caused & { readonly kind: 'gate-answered'; readonly answer: GateAnswer; readonly toDevice?: string })
  | (Caused & {
      readonly kind: 'state-changed';
      readonly subject: Subject;
      readonly state: SubjectState;
      readonly why: string;
    })
  | (Caused & {
      readonly kind: 'severity-changed';
      readonly spindleId: string;
      readonly change: Readonly<Omit<SeverityChange, 'position'>>;
    })
  /** Nobody had answered a hold for so long that the next ones are told. */
  | (Caused & { readonly kind: 'hold-escalated'; readonly holdId: string; readonly escalation: Escalation })
  /** A limit that is reached before long, as its level goes on: said first, said anew, or taken back. */
  | (Caused & { readonly kind: 'limit-ahead'; readonly spindleId: string; readonly ahead: Readonly<LimitAhead> })
  /** An override that was turned down around a rise and kept down after it, or is up again. Never a hold. */
  | (Caused & { readonly kind: 'override-kept'; readonly spindleId: string; readonly kept: Readonly<OverrideKept> })
  /** The cause of an open hold, weighed again with what has come since. */
  | (Caused & { readonly kind: 'cause-weighed'; readonly holdId: string; readonly finding: CauseFinding })
  /** A sensor is asked for a raw window; `channel` where one is wanted in particular. */
  | (Caused & {
      readonly kind: 'wave-asked';
      readonly spindleId: string;
      readonly device: string;
      readonly channel?: string;
      readonly id: string;
      /** A person's name, or the service's own. */
      readonly by: string;
    })
  | (Caused & { readonly kind: 'remarked'; readonly subject: Subject; readonly remark: string });
export type OutcomeKind = Outcome['kind'];
