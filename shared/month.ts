// The month of a plant as it is shown and printed: what was held, checked, corrected, declared and found, each with how many it is of.
import * as z from 'zod';
import { LIMIT_QUANTITIES } from './acts.ts';
import { RatesView } from './headroom.ts';
import { HOLD_REASONS } from './holds.ts';
import { Subject } from './ids.ts';
import { MoneyView } from './money.ts';
import { AHEAD_BECAME, MONTH_CAUSES } from './month-limits.ts';
import { StillReadPercent } from './still-read.ts';

const At = z.number().meta({ description: 'ms UTC' });
const Count = z.int().min(0);

const HoldsCounted = {
  raised: Count,
  ended: Count,
  open: Count.describe('at the end of the month, or now while it lasts'),
};

const Times = z.object({
  of: Count.describe('holds that it is known of'),
  medianMs: z.number().optional(),
  longestMs: z.number().optional(),
  longestHoldId: z.string().optional(),
});

const Named = z.object({
  holdId: z.string(),
  subject: Subject,
  reason: z.enum(HOLD_REASONS),
  at: At,
  by: z.string(),
  askedBy: z.string().optional(),
  note: z.string().optional(),
});

/** What the journal says of the month. */
export const MonthHappened = z.object({
  knownFrom: At.optional().describe('the first message that is on record; absent while there is none'),
  stillReadPercent: StillReadPercent,
  holds: z.object({
    openBefore: Count.describe('when the month began'),
    ...HoldsCounted,
    byReason: z.array(z.object({ reason: z.enum(HOLD_REASONS), ...HoldsCounted })),
    byCause: z.array(z.object({ cause: z.enum(MONTH_CAUSES), ...HoldsCounted })),
    toTake: Times.describe('from raising to the first answer of a person, of holds answered in the month'),
    toEnd: Times.describe('from raising to the end, of holds that ended in the month'),
  }),
  deviations: z.object({ of: Count, rows: z.array(Named) }),
  voids: z.object({ of: Count, rows: z.array(Named) }),
  mostHeld: z.object({
    of: Count.describe('spindles that were on hold at any time of the month'),
    rows: z.array(z.object({ spindleId: z.string(), holds: Count, heldMs: z.number() })),
  }),
  /** Of the holds that ended in the month: what people said of them last. */
  truth: z.object({
    of: Count,
    confirmed: Count,
    nothingFound: Count,
    inError: Count,
    unsaid: Count,
    /** Of those where the rules named a cause and a person found one. */
    named: z.object({ of: Count, right: Count }),
  }),
  corrections: z.object({
    assemblies: Count,
    tries: Count,
    /** Of first tries alone; `unknown`: not measured since, or undecided. */
    first: z.object({ of: Count, within: Count, exceeds: Count, unknown: Count }),
  }),
  checks: z.array(z.object({ bench: z.string(), passed: Count, failed: Count })),
  silent: z.object({
    of: Count.describe('spindles that were silent, or cut off, at any time of the month'),
    ms: z.number(),
    rows: z.array(z.object({ spindleId: z.string(), times: Count, ms: z.number() })),
  }),
  limits: z.object({
    of: Count,
    rows: z.array(
      z.object({
        at: At,
        position: z.int(),
        by: z.string(),
        why: z.string().optional(),
        what: z.enum(['limits', 'rules']),
        spindleId: z.string().optional(),
        before: Count.describe('how many there were').optional(),
        after: Count.optional(),
        version: z.int().optional(),
      }),
    ),
  }),
  ahead: z.object({
    of: Count.describe('forecasts whose middle day lay in the month'),
    reached: Count,
    moved: Count,
    takenBack: Count,
    notReached: Count,
    rows: z.array(
      z.object({
        spindleId: z.string(),
        speedRpm: z.number(),
        quantity: z.enum(LIMIT_QUANTITIES),
        saidAt: At,
        p50At: At,
        became: z.enum(AHEAD_BECAME),
      }),
    ),
  }),
});
export type MonthHappened = z.infer<typeof MonthHappened>;
export type MonthNamed = z.infer<typeof Named>;
export type MonthTimes = z.infer<typeof Times>;

/** What the floor remembers of the month. */
export const MonthHours = z.object({
  month: z.string(),
  zone: z.string(),
  now: At,
  from: At,
  to: At.describe('the first instant of the next month'),
  spindles: Count.describe('known now'),
  hours: z.object({
    from: At.describe('00:00 UTC of the first day that is counted'),
    to: At.describe('00:00 UTC of the day after the last'),
    since: At.optional().describe('of the first of these days that something was counted on; absent where none was'),
    cutHours: z.number(),
    awayHours: z.number(),
    money: MoneyView.optional(),
    rates: RatesView.optional(),
  }),
});
export type MonthHours = z.infer<typeof MonthHours>;

export const MonthView = MonthHours.extend({ happened: MonthHappened });
export type MonthView = z.infer<typeof MonthView>;
