// Headroom: what is given away by running slower than programmed, what the limits would allow beyond, and what it costs by the user's own rates.
import * as z from 'zod';
import { quantity } from './quantity.ts';
import { say } from './language/index.ts';
import { MoneyView } from './money.ts';
import {
  CURRENCY_CHARACTERS_MAX,
  CUTTER_CHANGE_MAX_MIN,
  CUTTER_NAME_CHARACTERS_MAX,
  CUTTER_RATES_MAX,
  RATE_AMOUNT_MAX,
  RATE_SOURCE_CHARACTERS_MAX,
} from './rates-limits.ts';
import { CutterLifeView } from './tool-life.ts';
import { Rfc3339 } from './time-schema.ts';

const At = z.number().meta({ description: 'ms UTC' });
const Hours = z.number().meta({ description: 'h' });

/** The rise that an override was turned down around. */
export const OverrideRise = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('hold'), at: At, holdId: z.string() }),
  z.object({ kind: z.literal('severity'), at: At, speedRpm: z.number(), to: z.string(), levelMmS: z.number() }),
  z.object({
    kind: z.literal('level'),
    at: At,
    quantity: z.enum(['overall', 'synchronous']),
    beforeMmS: z.number(),
    levelMmS: z.number(),
  }),
]);
export type OverrideRise = z.infer<typeof OverrideRise>;

/** An override that was turned down around a rise in vibration and stayed there after what had risen was gone; or is back. */
export const OverrideKept = z.object({
  state: z.enum(['kept', 'restored']),
  at: At,
  stepAt: At,
  stepPosition: z.int().describe('of the message that told it, in the journal'),
  fromPercent: z.number(),
  toPercent: z.number(),
  assemblyId: z.string().optional().describe('what was loaded then'),
  rise: OverrideRise,
  goneAt: At,
  goneBy: z.enum(['hold-ended', 'taken-out']),
  /** In the cut since it was turned down, and spindle hours given away in that time. */
  cutHours: Hours,
  awayHours: Hours,
});
export type OverrideKept = z.infer<typeof OverrideKept>;

const Source = z.string().trim().min(1).max(RATE_SOURCE_CHARACTERS_MAX).describe('who says so');
const Sourced = { source: Source, sourceDate: Rfc3339.optional() };
const Amount = z.number().min(0).max(RATE_AMOUNT_MAX);

/** The user's own rates, declared whole; nothing is shown as money without them. */
export const RatesDeclared = z.object({
  currency: z.string().trim().min(1).max(CURRENCY_CHARACTERS_MAX).describe('as it is written behind an amount'),
  spindleHour: z.object({ amount: Amount, ...Sourced }).optional(),
  /** By the cutter's part number, as builds declare it. */
  cutters: z
    .array(z.object({ cutter: z.string().trim().min(1).max(CUTTER_NAME_CHARACTERS_MAX), amount: Amount, ...Sourced }))
    .max(CUTTER_RATES_MAX)
    .default([]),
  cutterChange: z
    .object({ minutes: quantity('min', { min: 0, max: CUTTER_CHANGE_MAX_MIN }, 'time of a cutter change'), ...Sourced })
    .optional(),
});
export type RatesDeclared = z.infer<typeof RatesDeclared>;

/** As a person sends them: what was recorded before may name a cutter twice. */
export const RatesAsked = RatesDeclared.superRefine(({ cutters }, context) => {
  cutters.forEach(({ cutter }, nth) => {
    if (cutters.findIndex((one) => one.cutter === cutter) < nth)
      context.addIssue({
        code: 'custom',
        path: ['cutters', nth, 'cutter'],
        message: say`expected ${say`one price for ${cutter}`}`,
      });
  });
});

export const RatesView = RatesDeclared.extend({ by: z.string(), at: At });
export type RatesView = z.infer<typeof RatesView>;

export const SPEED_BOUNDS = ['balance', 'marked-maximum', 'spindle-maximum'] as const;
export type SpeedBound = (typeof SPEED_BOUNDS)[number];

/** The speeds that bound an assembly in a spindle; each absent where it is not known. */
const Bounds = {
  balanceUpToRpm: z.number().optional().describe('up to here the measurement shows the grade'),
  markedRpm: z.number().optional().describe('lowest maximum marked on one of its parts'),
  maximumRpm: z.number().optional().describe("the spindle's maximum as declared"),
};

/** What was cut with one assembly at one programmed speed. */
export const HeadroomProgram = z.object({
  assemblyId: z.string(),
  programmedRpm: z.number(),
  actualRpm: z.number().describe('mean over the time in the cut'),
  cutHours: Hours,
  reducedHours: Hours,
  awayHours: Hours,
  ...Bounds,
  /** The lowest of the bounds, where it is above what was programmed and a maker's limit is known. */
  allowedRpm: z.number().optional(),
  allowedBy: z.enum(SPEED_BOUNDS).optional(),
  /** Hours that the same cuts would take less at `allowedRpm`; a "could", never a loss. */
  couldHours: Hours.optional(),
});
export type HeadroomProgram = z.infer<typeof HeadroomProgram>;

export const OverrideKeptView = OverrideKept.extend({ words: z.string() });
export type OverrideKeptView = z.infer<typeof OverrideKeptView>;

export const HeadroomRow = z.object({
  spindleId: z.string(),
  machine: z.string(),
  cell: z.string(),
  /** As it is now; each absent where nothing tells it. */
  now: z.object({
    assemblyId: z.string().optional(),
    programmedRpm: z.number().optional(),
    actualRpm: z.number().optional(),
    overridePercent: z.number().optional(),
    ...Bounds,
  }),
  cutHours: Hours,
  reducedHours: Hours.describe('of them, with the override turned down'),
  awayHours: Hours.describe('time × (1 − actual ÷ programmed) over the hours with the override turned down'),
  untoldHours: Hours.describe('hours of which the control and the sensor told nothing'),
  /** By what was cut most, since `programsSince`, whatever days are asked for; `couldHours` is of the same. */
  programs: z.array(HeadroomProgram),
  programsSince: At.optional(),
  couldHours: Hours.optional(),
  money: MoneyView.optional(),
  kept: OverrideKeptView.optional(),
});
export type HeadroomRow = z.infer<typeof HeadroomRow>;

export const HEADROOM_DAYS_DEFAULT = 28;
/** Day rows are kept so long; asked for more, what is kept is told. */
export const HEADROOM_DAYS_MAX = 400;

export const HeadroomView = z.object({
  from: At.describe('00:00 UTC of the first day'),
  since: At.optional().describe('00:00 UTC of the first of these days that something was counted on'),
  to: At,
  days: z.int(),
  spindles: z.array(HeadroomRow).describe('most hours given away first'),
  cutHours: Hours,
  awayHours: Hours,
  money: MoneyView.optional(),
  rates: RatesView.optional(),
  cutters: z.array(CutterLifeView),
});
export type HeadroomView = z.infer<typeof HeadroomView>;
