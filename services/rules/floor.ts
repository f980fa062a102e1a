// What the rules know of the plant at a position of the journal: plain data, a fold over entries and their outcomes.
import type { SpindleDeclared, VibrationLimit } from '../../shared/acts.ts';
import type { Position } from '../../shared/entries.ts';
import type { GateAnswer } from '../../shared/gate.ts';
import type { Hold, HoldReason } from '../../shared/holds.ts';
import type { DeviceKind, Subject } from '../../shared/ids.ts';
import type { NotComparableReason, SubjectState } from '../../shared/outcomes.ts';
import type { SeverityAgainst, SeverityChange, SeverityRung } from '../../shared/severity.ts';
import type { LowerEnvelope } from '../../shared/statistics/index.ts';
import type { Instant } from '../../shared/time.ts';
import type { ResponseLine, ResponsePoint } from '../../shared/views.ts';
import type { AssemblyState, LoadRecordState, Stamp } from './assembly-facts.ts';
import type { BenchState } from './bench-facts.ts';
import type { MachineFacts, SpeedDoubt } from './control-facts.ts';
import type { DailyLevels } from './daily-facts.ts';
import type { AnsweringState, HeldLoad, NoticeState, PlannedWork, SensorDoubt, TrialRun } from './hold-facts.ts';
import type { BuildOdds, MeasuredSum, Relating } from './relating/relating-state.ts';
import type { RatesState, ReferenceState } from './declared-facts.ts';
import type { CutterLives, HeadroomState } from './headroom-facts.ts';
import type { RuleSetState, Tuned } from './settings.ts';
import type { WindowState } from './window-facts.ts';

export type * from './assembly-facts.ts';
export type * from './bench-facts.ts';
export type * from './control-facts.ts';
export type * from './daily-facts.ts';
export type * from './declared-facts.ts';
export type * from './hold-facts.ts';
export type * from './window-facts.ts';

/** A reason that a person set aside for one pairing, up to a speed. */
export interface Waiver {
  readonly reason: HoldReason;
  readonly upToRpm: number;
}

export interface LoadedState {
  readonly assemblyId: string;
  readonly buildId: string | undefined;
  readonly at: Instant;
  readonly position: Position;
  readonly ordinal: number;
  readonly device: string;
  readonly waivers: readonly Waiver[];
  /** Kept beside the pairing so that a reading needs no second look-up. */
  readonly residualGmm: number | undefined;
  /** The lowest speed above which a rule would speak; UNBOUNDED_RPM where none would. */
  readonly speedBoundRpm: number;
}

export type Measuring = Pick<SpindleDeclared, 'bearings' | 'velocityBandHz' | 'envelopeBandHz' | 'measuredChannel'>;

export interface SpindleDeclaration {
  readonly machine: string;
  readonly cell: string;
  readonly interface: string | undefined;
  readonly maxSpeedRpm: number | undefined;
  readonly limits: readonly VibrationLimit[];
  /** Who entered each of the limits, in their order, and the table: a later declaration that says the same leaves them. */
  readonly limitsBy: readonly string[];
  readonly zones: SpindleDeclared['zones'];
  readonly zonesBy: string;
  /** What the analysis of its raw windows needs to know. */
  readonly measuring: Measuring;
  readonly by: string;
  readonly at: Instant;
  readonly position: Position;
}

/** Counting for one limit: how often and how long in a row it was exceeded. */
export interface LimitWatch {
  count: number;
  firstAt: Instant;
  lastAt: Instant;
  /** A hold was raised for this stay above the limit; it must come down before there is another. */
  fired: boolean;
  /** Oldest first, at most EVIDENCE_POSITIONS_MAX: the first ones and the latest. */
  positions: Position[];
}

/** A rung that the level of a speed bin stands on, and the one that it has been heading for. */
export interface RungState {
  rung: SeverityRung | undefined;
  since: Instant;
  heading: SeverityRung | undefined;
  /** Readings in a row that headed there; when, at which turning time and at which load the first of them was. */
  count: number;
  headingAt: Instant;
  headingTurnedMs: number;
  headingLoad: number;
}

/** What is known of the overall vibration in one speed bin. */
export interface SeverityState {
  /** Overall velocity, smoothed; mm/s RMS. */
  levelMmS: number;
  readings: number;
  /** Mean of the readings that were learned from; what is usual once it is set. */
  usualMmS: number;
  usualReadings: number;
  usualFromTurnedMs: number;
  usualSetAt: Instant | undefined;
  /** What the rung is of. A change of it begins anew. */
  against: SeverityAgainst | undefined;
  readonly held: RungState;
  readonly change: RungState;
}

/** One of the speeds that a spindle runs: how it answers to unbalance there, and how severely it vibrates. */
export interface SpeedBin {
  readonly bin: number;
  readonly foundedRpm: number;
  centreRpm: number;
  readings: number;
  lastAt: Instant;
  /** One mark per load, oldest first; the last may still grow. */
  points: ResponsePoint[];
  line: ResponseLine | undefined;
  severity: SeverityState | undefined;
  /** Absent before the first reading that counts for it. */
  daily?: DailyLevels | undefined;
}

/** What a reading may have that is odd: a fault that is told, or what no spindle does, standing or turning. */
export const ODD_KINDS = ['told', 'beyond', 'part-over-whole', 'standing', 'turning'] as const;
export type OddKind = (typeof ODD_KINDS)[number];

/** What a reading told, to find out whether the next one tells it again. */
export interface Figures {
  overallMmS: number | undefined;
  synchronousMmS: number | undefined;
  accelerationRmsMS2: number | undefined;
}

/** What readings change. The fold changes it in place: it is touched for every reading of every spindle. */
export interface SpindleLive {
  sensor: string | undefined;
  lastReadingAt: Instant | undefined;
  /** Of the last reading that could be compared; undefined while there never was one. */
  lastComparableAt: Instant | undefined;
  /** Arrival of the last reading that came too late to say anything of now, and how many of them in a row. */
  lastLateAt: Instant | undefined;
  lateInRow: number;
  lastPosition: Position;
  speedRpm: number;
  overallMmS: number;
  synchronousMmS: number | undefined;
  expectedMmS: number | undefined;
  comparable: boolean;
  notComparable: NotComparableReason | undefined;
  /** By kind, over the readings that could have shown it. */
  readonly oddInRow: Record<OddKind, number>;
  lastOdd: OddKind | undefined;
  /** Over the readings that could have shown the last oddity. */
  soundInRow: number;
  /** Of readings in motion. */
  sameInRow: number;
  readonly inMotion: Figures;
  speedOverInRow: number;
  speedDoubt?: SpeedDoubt | undefined;
  /** The sensor of the last reading that did not come late. */
  heardFrom: string | undefined;
  doubt: SensorDoubt | undefined;
  trial: TrialRun | undefined;
  /** One per declared limit, in the declaration's order. */
  watches: LimitWatch[];
  readonly bins: Map<number, SpeedBin>;
  heldLoad?: HeldLoad | undefined;
  /** When it was last seen turning, and how long it has turned in all, as far as readings tell. */
  turnedAt: Instant | undefined;
  turnedMs: number;
  /** Of the turning time, where the last long rest ended; undefined while none was seen. */
  restedAtTurnedMs: number | undefined;
  /** The bin of the last reading whose severity was judged. */
  severityBin: number | undefined;
  /** Oldest first, at most SEVERITY_CHANGES_MAX. */
  severityChanges: SeverityChange[];
}

export interface SpindleState {
  readonly spindleId: string;
  readonly declaration: SpindleDeclaration | undefined;
  readonly loadOrdinal: number;
  readonly loaded: LoadedState | undefined;
  /** The last load or unload that counted. */
  readonly lastChange: Stamp | undefined;
  readonly loads: readonly LoadRecordState[];
  readonly machine: MachineFacts | undefined;
  readonly state: SubjectState;
  readonly stateWhy: string;
  /** The last answer told for the loaded pairing. */
  readonly gate: GateAnswer | undefined;
  /** Whether the spindle, or what is loaded in it, is on hold: nothing is learned from it then. */
  readonly onHold: boolean;
  /** In the order of their beginning, at most PLANNED_WORK_PER_SPINDLE_MAX. */
  readonly work: readonly PlannedWork[];
  /** What the rule set in force asks of it with what is loaded; undefined where nothing is tuned. */
  readonly tuned: Tuned | undefined;
  readonly live: SpindleLive;
}

/** A jump of a device's clock on trial: the sample it would be, since when, and how often it was seen. */
export interface ClockJump {
  readonly sample: number;
  readonly since: Instant;
  readonly times: number;
}

/** One device's lane: what came of it, and how far its clock is off. Changed in place by the fold. */
export interface DeviceState {
  readonly device: string;
  kind: DeviceKind | undefined;
  connected: boolean;
  serves: readonly string[];
  intervalMs: number | undefined;
  calibratedUntil: string | undefined;
  lastAt: Instant | undefined;
  /** Arrival of the last message whose own time says that it did not wait. */
  lastInTimeAt: Instant | undefined;
  /** Before its last start: from when on it was not heard in time, and until when. */
  away: { readonly from: Instant; readonly to: Instant } | undefined;
  messages: number;
  rejected: number;
  late: number;
  sequenceGaps: number;
  bootId: string | undefined;
  lastSequence: number | undefined;
  /** Arrival less the device's time, its lower envelope: clock offset and shortest delay, sign turned. */
  clock: LowerEnvelope;
  clockOdd: boolean;
  jump: ClockJump | undefined;
  /** Said once per start: a reading named no spindle. */
  unplaced: boolean;
  /** The channel of its first raw window, and when it last sent a summary of its own making. */
  firstChannel: string | undefined;
  ownSummaryAt: Instant | undefined;
}

export interface Floor {
  readonly plant: string;
  position: Position;
  at: Instant;
  readonly assemblies: Map<string, AssemblyState>;
  readonly spindles: Map<string, SpindleState>;
  readonly devices: Map<string, DeviceState>;
  readonly benches: Map<string, BenchState>;
  readonly holds: Map<string, Hold>;
  /** Subject key → ids of its open holds, oldest first. */
  readonly openHolds: Map<string, readonly string[]>;
  /** Ended holds in the order of their ending; the oldest are forgotten here, never in the journal. */
  readonly endedHolds: string[];
  readonly notices: Map<string, readonly NoticeState[]>;
  /** By spindle; only of those whose sensor sends raw windows. Replaced whole, never changed in place. */
  readonly windows: Map<string, WindowState>;
  /** By spindle: how its vibration relates to what was in it. Changed in place by the fold. */
  readonly relating: Map<string, Relating>;
  /** By assembly, of its build that ran last: the odds that it has changed, wherever it runs. */
  readonly buildOdds: Map<string, BuildOdds>;
  /** By bench: what the builds that it measured say of it. */
  readonly benchOdds: Map<string, readonly MeasuredSum[]>;
  /** By spindle: how fast it runs against what was programmed. Changed in place by the fold. */
  readonly headroom: Map<string, HeadroomState>;
  readonly cutters: Map<string, CutterLives>;
  rates: RatesState | undefined;
  reference: ReferenceState | undefined;
  answering: AnsweringState | undefined;
  /** Oldest first, the one in force last; at most RULE_SETS_KEPT_MAX. Replaced whole. */
  ruleSets: readonly RuleSetState[];
  readings: number;
}

export function emptyFloor(plant: string): Floor {
  return {
    plant,
    position: 0,
    at: 0,
    assemblies: new Map(),
    spindles: new Map(),
    devices: new Map(),
    benches: new Map(),
    holds: new Map(),
    openHolds: new Map(),
    endedHolds: [],
    notices: new Map(),
    windows: new Map(),
    relating: new Map(),
    buildOdds: new Map(),
    benchOdds: new Map(),
    headroom: new Map(),
    cutters: new Map(),
    rates: undefined,
    reference: undefined,
    answering: undefined,
    ruleSets: [],
    readings: 0,
  };
}

export const subjectKey = ({ kind, id }: Subject): string => `${kind}/${id}`;
