// Holds: what is on hold, why, on what evidence, who has it, and what would release it.
import { say } from './language/index.ts';
import type { HoldActName } from './acts.ts';
import type { Escalation } from './answering.ts';
import type { CauseFinding, Found } from './causes.ts';
import type { Position } from './entries.ts';
import type { Subject } from './ids.ts';
import type { Instant } from './time.ts';

/** The closed list of reasons; a code is never used again for anything else. */
export const HOLD_REASONS = [
  'residual-exceeds',
  'speed-above-balanced',
  'speed-above-marked',
  'not-measured-since-build',
  'held-assembly-loaded',
  'overall-over-limit',
  'synchronous-over-limit',
  'vibration-unexplained',
  'bench-in-doubt',
  'sensor-cannot-judge',
] as const;
export type HoldReason = (typeof HOLD_REASONS)[number];

/** The reasons as people read them. */
export const REASON_WORDS: Readonly<Record<HoldReason, string>> = {
  'residual-exceeds': say`residual unbalance exceeds what is permissible`,
  'not-measured-since-build': say`built or changed since its last measurement`,
  'speed-above-balanced': say`speed above what it is balanced for`,
  'speed-above-marked': say`speed above the lowest marked maximum`,
  'held-assembly-loaded': say`an assembly on hold is loaded`,
  'overall-over-limit': say`overall vibration over its limit`,
  'synchronous-over-limit': say`1× vibration over its limit`,
  'vibration-unexplained': say`vibration that what is known does not explain`,
  'bench-in-doubt': say`the bench did not pass its check`,
  'sensor-cannot-judge': say`its sensor cannot be believed`,
};

/** The same of a hold that has ended: what was so then may be otherwise now. */
export const REASON_WORDS_THEN: Readonly<Record<HoldReason, string>> = {
  'residual-exceeds': say`residual unbalance exceeded what is permissible`,
  'not-measured-since-build': say`it had not been measured since it was built or changed`,
  'speed-above-balanced': say`speed was above what it was balanced for`,
  'speed-above-marked': say`speed was above the lowest marked maximum`,
  'held-assembly-loaded': say`an assembly on hold was loaded`,
  'overall-over-limit': say`overall vibration was over its limit`,
  'synchronous-over-limit': say`1× vibration was over its limit`,
  'vibration-unexplained': say`vibration that what was known did not explain`,
  'bench-in-doubt': say`the bench had not passed its check`,
  'sensor-cannot-judge': say`its sensor could not be believed`,
};

export const HOLD_STATES = ['raised', 'taken', 'checked', 'released', 'void'] as const;
export type HoldState = (typeof HOLD_STATES)[number];

/** One line of the ledger: what was measured against which limit, and where that limit comes from. */
export interface Clause {
  /** Plain words, e.g. "residual unbalance less its measuring error". */
  readonly what: string;
  readonly measured: number;
  readonly limit: number;
  /** UCUM code of both. */
  readonly unit: string;
  readonly source: string;
  /** Readings in a row, where persistence is asked for. */
  readonly times?: number;
}

export interface Evidence {
  /** Positions in the journal, oldest first; each opens the raw message. */
  readonly positions: readonly Position[];
  readonly clauses: readonly Clause[];
  readonly assemblyId?: string;
  readonly buildId?: string;
  readonly spindleId?: string;
  readonly speedRpm?: number;
  readonly benchId?: string;
  /** The sensor whose readings they are, where it is the sensor that is held. */
  readonly device?: string;
  /** What hung on a bench when it was put in doubt. */
  readonly touched?: { readonly assemblies: readonly string[]; readonly spindles: readonly string[] };
  /** How long after it was measured the message came that raised it, ms; absent where it came in time. */
  readonly lateMs?: number;
}

/** What ends a hold; any one of a hold's conditions does. */
export type ReleaseCondition =
  | { readonly kind: 'passing-measurement'; readonly assemblyId: string; readonly speedRpm: number }
  | { readonly kind: 'unloaded'; readonly spindleId: string; readonly assemblyId: string }
  | { readonly kind: 'hold-ended'; readonly holdId: string }
  | { readonly kind: 'maintenance-release'; readonly spindleId: string }
  /** Another assembly of known balance ran in it as expected after a maintenance release. */
  | { readonly kind: 'verification-run'; readonly spindleId: string }
  | { readonly kind: 'bench-check-passed'; readonly benchId: string }
  | { readonly kind: 'sensor-sound'; readonly spindleId: string };

export const AWAITED = ['verification-run', 'second-name'] as const;
export type Awaited = (typeof AWAITED)[number];

export interface HoldStep {
  readonly state: HoldState;
  readonly at: Instant;
  /** A person's name, or a device's where a measurement did it. */
  readonly by: string;
  readonly note?: string;
  /** What in the journal did it. */
  readonly cause: Position;
  readonly deviation?: boolean;
  /** What it waits for since this step: a run that shows what a repair was worth, or another person's name. */
  readonly awaits?: Awaited;
  /** Another hold stands for the same from here on: nothing was done about it, and nothing is learned anew. */
  readonly movedTo?: string;
  /** Who had asked for the deviation that this step confirms. */
  readonly askedBy?: string;
  /** How long after it was measured the message came that led to it, ms; absent where it came in time. */
  readonly lateMs?: number;
  /** With a check or a release by a person who said so: what it was. */
  readonly found?: Found;
}

export interface Hold {
  /** H-<position of the cause>-<ordinal>: the same journal gives the same ids. */
  readonly holdId: string;
  readonly subject: Subject;
  readonly reason: HoldReason;
  readonly state: HoldState;
  readonly raisedAt: Instant;
  readonly evidence: Evidence;
  readonly conditions: readonly ReleaseCondition[];
  /** Every step on record, the raising first. */
  readonly steps: readonly HoldStep[];
  /** Positions of later messages that say the same; listed, not sent again. */
  readonly dependents: readonly Position[];
  /** How its cause was weighed, the first time with its raising; at most FINDINGS_PER_HOLD_MAX. */
  readonly findings?: readonly CauseFinding[];
  /** The version of the rules that raised it; absent in what was recorded before holds kept it. */
  readonly rules?: string;
  /** Who was told because nobody had answered, oldest first. */
  readonly escalations?: readonly Escalation[];
}

export const DEPENDENTS_MAX = 50;
/** Of a hold that is raised again and again; older ones stand in the journal. */
export const ESCALATIONS_PER_HOLD_MAX = 20;

export function isOpen(hold: Pick<Hold, 'state'>): boolean {
  return hold.state !== 'released' && hold.state !== 'void';
}

/** The last step since which a hold waits for this, or waited until it ended; undefined where it did not. */
export function awaitedSince<S extends Pick<HoldStep, 'state' | 'awaits'>>(
  { steps }: { readonly steps: readonly S[] },
  awaited: Awaited,
): S | undefined {
  for (let index = steps.length - 1; index >= 0; index -= 1) {
    const step = steps[index];
    if (step?.awaits === awaited) return step;
    // Raised again: whatever it waited for before is over.
    if (step?.state === 'raised') return undefined;
  }
  return undefined;
}

export const HOLD_TYPE = 'counterpoise.hold.v1';

/** Which acts a state admits, in the order a person would do them. */
export const ACTS_IN_STATE: Record<HoldState, readonly HoldActName[]> = {
  raised: ['take', 'check', 'release', 'deviate', 'void'],
  taken: ['take', 'check', 'release', 'deviate', 'confirm', 'void'],
  // Taking it then would hide that it was checked; who goes on with it records a check of their own.
  checked: ['check', 'release', 'deviate', 'confirm', 'void'],
  released: [],
  void: [],
};
