// What the gateway shows of the floor: the one shape that REST, the feed and the dashboard share.
import * as z from 'zod';
import { SERIES_QUANTITIES } from './series-quantities.ts';
import { LIMIT_QUANTITIES, SpindleDeclared } from './acts.ts';
import { AheadView } from './ahead.ts';
import { GATE_WORDS } from './gate.ts';
import { OverrideKeptView } from './headroom.ts';
import { HoldView } from './hold-view.ts';
import { DEVICE_KINDS } from './ids.ts';
import { NOT_COMPARABLE_REASONS, SUBJECT_STATES } from './outcomes.ts';
import { PlannedWorkView } from './planned-work.ts';
import { Problem } from './problem.ts';
import { SeverityView } from './severity.ts';
import { StillReadPercent } from './still-read.ts';
import { BEARING_PARTS, HEALTH_WEIGHTS } from './wave-analysis.ts';

export { HoldView, NoticeView } from './hold-view.ts';

/** The word beside each mark; normal has no colour and needs no word but this one. */
export const STANDINGS = ['in-family', 'watch', 'hold', 'no-data'] as const;
export type Standing = (typeof STANDINGS)[number];

const At = z.number().meta({ description: 'ms UTC' });

export const LoadedView = z.object({
  assemblyId: z.string(),
  buildId: z.string().optional(),
  at: At,
  ordinal: z.int(),
  /** Residual in force, its measuring error and what is permitted at the programmed speed; absent while unknown. */
  residualGmm: z.number().optional(),
  permissibleGmm: z.number().optional(),
});

export const SpindleRow = z.object({
  spindleId: z.string(),
  machine: z.string(),
  cell: z.string(),
  standing: z.enum(STANDINGS),
  /** One short sentence why, where the standing is not in-family. */
  why: z.string().optional(),
  state: z.enum(SUBJECT_STATES),
  loaded: LoadedView.optional(),
  programmedSpeedRpm: z.number().optional(),
  actualSpeedRpm: z.number().optional(),
  overridePercent: z.number().optional(),
  cutting: z.boolean().optional(),
  /** Of the last reading. */
  lastReadingAt: At.optional(),
  speedRpm: z.number().optional(),
  overallMmS: z.number().optional(),
  synchronousMmS: z.number().optional(),
  expectedMmS: z.number().optional(),
  comparable: z.boolean().optional(),
  notComparable: z.enum(NOT_COMPARABLE_REASONS).optional(),
  overallLimitMmS: z.number().optional(),
  synchronousLimitMmS: z.number().optional(),
  gateWord: z.enum(GATE_WORDS).optional(),
  openHoldIds: z.array(z.string()),
  /** In words: an override that was turned down around a rise in vibration and kept down after it; absent where none is. */
  overrideKept: z.string().optional(),
});
export type SpindleRow = z.infer<typeof SpindleRow>;

/** One load's worth of comparable readings at one speed bin: a mark of the response fan. */
export const ResponsePoint = z.object({
  loadOrdinal: z.int(),
  assemblyId: z.string(),
  buildId: z.string().optional(),
  at: At,
  speedBin: z.int(),
  speedRpm: z.number(),
  residualGmm: z.number(),
  synchronousMmS: z.number(),
  readings: z.int(),
});
export type ResponsePoint = z.infer<typeof ResponsePoint>;

/** V² = slope·U² + own², per speed bin: the first plain correlation of observed 1× against residual unbalance. */
export const ResponseLine = z.object({
  speedBin: z.int(),
  speedRpm: z.number(),
  loads: z.int(),
  /** (mm/s)² per (g·mm)². */
  slope: z.number(),
  /** (mm/s)²: what is left at no residual at all. */
  own: z.number(),
  correlation: z.number().optional(),
});
export type ResponseLine = z.infer<typeof ResponseLine>;

export const LimitView = z.object({
  quantity: z.enum(LIMIT_QUANTITIES),
  fromSpeedRpm: z.number(),
  toSpeedRpm: z.number(),
  limitMmS: z.number(),
  source: z.string(),
  sourceDate: z.string().optional(),
  enteredBy: z.string().optional(),
});

export const LoadRecord = z.object({
  ordinal: z.int(),
  assemblyId: z.string(),
  buildId: z.string().optional(),
  at: At,
  until: At.optional(),
  position: z.int(),
});

/** What the raw windows of a spindle say, and whether one is waited for. */
export const SpindleWindows = z.object({
  /** The last one that came. */
  waveId: z.int(),
  at: At,
  device: z.string(),
  channel: z.string(),
  asked: z.object({ id: z.string(), at: At, by: z.string() }).optional(),
  /** What is wrong with the last window of each channel. */
  health: z.array(
    z.object({ channel: z.string(), waveId: z.int(), at: At, weight: z.enum(HEALTH_WEIGHTS), words: z.string() }),
  ),
  /** Bearing parts that have spoken over several windows. */
  speaking: z.array(
    z.object({
      channel: z.string(),
      bearing: z.string(),
      part: z.enum(BEARING_PARTS),
      waveId: z.int(),
      since: At,
      words: z.string(),
    }),
  ),
});
export type SpindleWindows = z.infer<typeof SpindleWindows>;

export const SpindleView = z.object({
  row: SpindleRow,
  interface: z.string().optional(),
  maxSpeedRpm: z.number().optional(),
  limits: z.array(LimitView),
  points: z.array(ResponsePoint),
  lines: z.array(ResponseLine),
  loads: z.array(LoadRecord),
  holds: z.array(HoldView),
  severity: SeverityView,
  /** As a person declared it last; absent where nobody did. */
  declared: SpindleDeclared.extend({ by: z.string(), at: At }).optional(),
  /** Its levels day by day at each speed, their trend, and when they reach the limit in force; absent before a day has ended. */
  ahead: z.array(AheadView).optional(),
  /** Absent where its sensor never sent a raw window. */
  windows: SpindleWindows.optional(),
  /** Work that is planned on it, now or later; absent where none is. */
  work: z.array(PlannedWorkView).optional(),
  /** Work that was planned and whose time is over, newest first; absent where none is remembered. */
  workBefore: z.array(PlannedWorkView).optional(),
  /** An override that was turned down around a rise in vibration and kept down after it. */
  overrideKept: OverrideKeptView.optional(),
});
export type SpindleView = z.infer<typeof SpindleView>;

export const DeviceLane = z.object({
  device: z.string(),
  kind: z.enum(DEVICE_KINDS).optional(),
  connected: z.boolean(),
  state: z.enum(SUBJECT_STATES),
  lastAt: At.optional(),
  messages: z.int(),
  rejected: z.int(),
  duplicates: z.int(),
  late: z.int(),
  sequenceGaps: z.int(),
  /** The device's clock less ours; absent while it sends no time that is believed. */
  clockOffsetMs: z.number().optional(),
  clockNotBelieved: z
    .literal(true)
    .optional()
    .describe('its newest time is over a year off: not used, nor measured by'),
});
export type DeviceLane = z.infer<typeof DeviceLane>;

export const RejectView = z.object({
  position: z.int(),
  at: At,
  device: z.string(),
  topic: z.string(),
  problem: Problem,
  bytes: z.int(),
  /** The beginning of what came, as text; bytes that are no text are shown as \xNN. */
  excerpt: z.string(),
  state: z.enum(['open', 'retried']),
});
export type RejectView = z.infer<typeof RejectView>;

export const IntakeView = z.object({
  devices: z.array(DeviceLane),
  rejectsOpen: z.int(),
  journal: z.object({ position: z.int(), at: At.optional() }),
  /** Raw windows whose samples are kept; absent while none came. Looked at every so often. */
  windows: z
    .object({
      windows: z.int(),
      bytes: z.number(),
      bytesMax: z.number(),
      waiting: z.int().describe('not analysed yet'),
      skipped: z.int().describe('ever, because too many came at once'),
      pinned: z.int().describe('behind holds'),
      isOver: z.boolean().describe('those behind open holds alone take more than they may'),
    })
    .optional(),
});
export type IntakeView = z.infer<typeof IntakeView>;

export const FloorView = z.object({
  plant: z.string(),
  zone: z.string(),
  now: At,
  invented: z.boolean(),
  /** Plain MQTT or HTTP beyond loopback: every screen warns of it. */
  inTheClear: z.boolean().optional(),
  spindles: z.array(SpindleRow),
  holds: z.array(HoldView),
  intake: IntakeView,
});
export type FloorView = z.infer<typeof FloorView>;

/** Columns of one series: as many points as asked for, each bucket's least, mean and greatest, so that extremes stay. */
export const SeriesView = z.object({
  quantity: z.enum(SERIES_QUANTITIES),
  unit: z.string(),
  from: At,
  to: At,
  bucketMs: z.number(),
  at: z.array(z.number()),
  min: z.array(z.number()),
  mean: z.array(z.number()),
  max: z.array(z.number()),
  count: z.array(z.number()),
  stillReadPercent: StillReadPercent,
});
export type SeriesView = z.infer<typeof SeriesView>;
