// What people put on record: acts on holds, limits, the plant's own list of spindles. Journalled like any message.
import * as z from 'zod';
import { say } from './language/index.ts';
import { Answering } from './answering.ts';
import { Bearing, BEARINGS_PER_SPINDLE_MAX } from './bearing.ts';
import { FOUND } from './causes.ts';
import { RatesDeclared } from './headroom.ts';
import { Id } from './ids.ts';
import { Correction } from './messages/index.ts';
import { WorkPlanned } from './planned-work.ts';
import { EccentricityUm, GradeMmS, quantity, SpeedRpm } from './quantity.ts';
import { HOLD_ACTS, MAY_ACT, ROLES, type HoldActName } from './rights.ts';
import { RulesDeclared } from './rule-set.ts';
import { Rfc3339 } from './time-schema.ts';
import { ZoneTable } from './zones.ts';

const Note = z
  .string()
  .trim()
  .min(1, say`expected a reason in words`)
  .max(1000);

export { HOLD_ACTS, MAY_ACT, type HoldActName };

/** take: I have it. check: what I found. release: maintenance release of a spindle. deviate: run on, with a reason. confirm: the second name for it. void: raised in error. */
export const HoldAct = z
  .object({
    act: z.enum(HOLD_ACTS),
    holdId: Id,
    note: z.string().trim().max(1000).optional(),
    found: z.enum(FOUND).optional().describe('with a check or a release: what it was'),
  })
  .refine(({ act, found }) => found === undefined || act === 'check' || act === 'release', {
    path: ['found'],
    error: say`expected with a check or a release only`,
  })
  .refine((act) => act.act === 'take' || act.act === 'confirm' || Note.safeParse(act.note).success, {
    path: ['note'],
    error: say`expected a reason or finding in words`,
  });
export type HoldAct = z.infer<typeof HoldAct>;

export const LIMIT_QUANTITIES = ['overall', 'synchronous'] as const;
export type LimitQuantity = (typeof LIMIT_QUANTITIES)[number];

export const LIMIT_MM_S_MAX = 10_000;
/** Above a limit of nothing everything would be. */
export const LimitMmS = z
  .number({ error: say`expected a number above 0, up to 10000 (mm/s)` })
  .gt(0, say`expected more than 0 (mm/s)`)
  .max(LIMIT_MM_S_MAX, say`expected at most 10000 (mm/s)`)
  .meta({ description: 'limit of a vibration velocity, RMS', ucum: 'mm/s' });

/** A limit is worth what its source is worth: who says so, since when, entered by whom. */
export const VibrationLimit = z.object({
  quantity: z.enum(LIMIT_QUANTITIES),
  fromSpeedRpm: SpeedRpm,
  toSpeedRpm: SpeedRpm,
  limitMmS: LimitMmS,
  source: z.string().trim().min(1).max(200),
  sourceDate: Rfc3339.optional(),
});
export type VibrationLimit = z.infer<typeof VibrationLimit>;

export const LIMITS_PER_SPINDLE_MAX = 40;

const FrequencyHz = quantity('Hz', { min: 0.1, max: 500_000 }, 'frequency');
const BandHz = z
  .tuple([FrequencyHz, FrequencyHz])
  .refine(([low, high]) => low < high, { error: say`expected the lower frequency first` });

/** A spindle as the plant engineer declares it; a later one replaces the earlier. */
export const SpindleDeclared = z.object({
  spindleId: Id,
  machine: z.string().min(1).max(80),
  cell: z.string().min(1).max(40),
  interface: z.string().max(40).optional(),
  /** The machine maker's limit; never exceeded whatever the balance says. */
  maxSpeedRpm: SpeedRpm.optional(),
  limits: z.array(VibrationLimit).max(LIMITS_PER_SPINDLE_MAX).default([]),
  /** Where no limit of the maker is in force; chosen by a person, with its source. */
  zones: ZoneTable.optional(),
  bearings: z.array(Bearing).max(BEARINGS_PER_SPINDLE_MAX).optional(),
  /** The maker's band for the overall velocity, where that is not 10–1000 Hz; and where bearings speak, where known. */
  velocityBandHz: BandHz.optional(),
  envelopeBandHz: BandHz.optional(),
  /** The channel of the sensor's raw windows that readings are made of; the first that came where it is not said. */
  measuredChannel: z.string().min(1).max(20).optional(),
  /** Of this declaration; the next one has its own. */
  why: z.string().trim().min(1).max(1000).optional().describe('why it is declared anew, in words'),
});
export type SpindleDeclared = z.infer<typeof SpindleDeclared>;

/** What became of telling somebody: each try is on record. */
export const NoticeTry = z.object({
  noticeId: z.string().min(1).max(80),
  holdId: Id,
  channel: z.string().min(1).max(40),
  to: z.string().max(200),
  outcome: z.enum(['sent', 'failed', 'given-up']),
  attempt: z.int().min(1),
  detail: z.string().max(500).optional(),
});
export type NoticeTry = z.infer<typeof NoticeTry>;

/** A person lifts the doubt that a failing bench put on its results, with a reason: a check set up wrongly, say. */
export const DoubtLifted = z.object({ benchId: Id, note: Note });
export type DoubtLifted = z.infer<typeof DoubtLifted>;

const Source = z.string().trim().min(1).max(200).describe('who says so');
export const REFERENCE_ROWS_MAX = 100;

/** The plant's own reference figures: they come before the defaults. Declared whole; a later one replaces the earlier. */
export const ReferenceDeclared = z.object({
  interfaces: z
    .array(
      z
        .object({
          interfaceKind: z.string().trim().min(1).max(40),
          lowUm: EccentricityUm,
          highUm: EccentricityUm,
          source: Source,
        })
        .refine((row) => row.lowUm <= row.highUm, { path: ['highUm'], error: say`expected at least lowUm` }),
    )
    .max(REFERENCE_ROWS_MAX)
    .default([]),
  densities: z
    .array(
      z.object({
        material: z.string().trim().min(1).max(60),
        densityGCm3: quantity('g/cm3', { min: 0.5, max: 25 }, 'density'),
        source: Source,
      }),
    )
    .max(REFERENCE_ROWS_MAX)
    .default([]),
  grades: z
    .array(z.object({ use: z.string().trim().min(1).max(120), gradeMmS: GradeMmS, source: Source }))
    .max(REFERENCE_ROWS_MAX)
    .default([]),
});
export type ReferenceDeclared = z.infer<typeof ReferenceDeclared>;

/** Somebody wants a raw window of a spindle now. */
export const AskWave = z.object({
  spindleId: Id,
  channel: z.string().min(1).max(20).optional().describe('left out: whatever the sensor measures'),
});
export type AskWave = z.infer<typeof AskWave>;

/** Who sends an act may name it, so that sending it again, after an answer that never came, changes nothing. */
export const ActId = z.string().regex(/^[0-9A-Za-z-]{16,64}$/, say`expected 16 to 64 letters, digits or hyphens`);

export const ACT_TYPES = {
  'hold-act': 'counterpoise.act.hold.v1',
  'spindle-declared': 'counterpoise.act.spindle.v1',
  'notice-try': 'counterpoise.act.notice.v1',
  'correction-recorded': 'counterpoise.act.correction.v1',
  'doubt-lifted': 'counterpoise.act.doubt.v1',
  'reference-declared': 'counterpoise.act.reference.v1',
  'ask-wave': 'counterpoise.act.ask-wave.v1',
  'work-planned': 'counterpoise.act.work.v1',
  'answering-declared': 'counterpoise.act.answering.v1',
  'rules-declared': 'counterpoise.act.rules.v1',
  'rates-declared': 'counterpoise.act.rates.v1',
} as const;
export type ActKind = keyof typeof ACT_TYPES;

export const ACT_SCHEMAS = {
  'hold-act': HoldAct,
  'spindle-declared': SpindleDeclared,
  'notice-try': NoticeTry,
  'correction-recorded': Correction,
  'doubt-lifted': DoubtLifted,
  'reference-declared': ReferenceDeclared,
  'ask-wave': AskWave,
  'work-planned': WorkPlanned,
  'answering-declared': Answering,
  'rules-declared': RulesDeclared,
  'rates-declared': RatesDeclared,
} as const satisfies Record<ActKind, z.ZodType>;

export interface ActData {
  'hold-act': HoldAct;
  'spindle-declared': SpindleDeclared;
  'notice-try': NoticeTry;
  'correction-recorded': Correction;
  'doubt-lifted': DoubtLifted;
  'reference-declared': ReferenceDeclared;
  'ask-wave': AskWave;
  'work-planned': WorkPlanned;
  'answering-declared': Answering;
  'rules-declared': RulesDeclared;
  'rates-declared': RatesDeclared;
}

/** Who did it and with which right; the service itself acts as role `service`. */
export const Actor = z.object({ name: Id, roles: z.array(z.enum([...ROLES, 'service'])) });
export type Actor = z.infer<typeof Actor>;
