// How severe a spindle's vibration is: against a limit, a table of zones, or what was usual of it. Words, records and views.
import * as z from 'zod';
import { ZoneTable, type Zone } from './zones.ts';

/** What a level is held against, the first that there is: the maker's limit, a chosen table, what was usual before. */
export const SEVERITY_AGAINST = ['limit', 'zones', 'usual'] as const;
export type SeverityAgainst = (typeof SEVERITY_AGAINST)[number];

/** `within`, `over`: of a limit. A to D: of a table. `usual`, `risen`, `fallen`: of what was usual. */
export const SEVERITY_RUNGS = ['within', 'over', 'A', 'B', 'C', 'D', 'usual', 'risen', 'fallen'] as const;
export type SeverityRung = (typeof SEVERITY_RUNGS)[number];

/** What the step of a change is a share of: the B/C boundary of a table, the limit in force, or what was usual itself. */
export const STEP_SHARES = ['boundary', 'limit', 'usual', 'floor'] as const;
export type StepShare = (typeof STEP_SHARES)[number];

const At = z.number().meta({ description: 'ms UTC' });
const Against = z.enum(SEVERITY_AGAINST);
const Rung = z.enum(SEVERITY_RUNGS);

/** One move from a rung to another, on record for good. */
export const SeverityChange = z.object({
  at: At,
  position: z.int(),
  speedBin: z.int(),
  speedRpm: z.number(),
  against: Against,
  from: Rung.optional().describe('absent where it was judged for the first time'),
  to: Rung,
  levelMmS: z.number(),
  boundaryMmS: z
    .number()
    .describe('the one that was crossed, or the next above where it was judged for the first time'),
  source: z.string(),
  generic: z.boolean().optional().describe('a general table of machines, taken as a starting point'),
});
export type SeverityChange = z.infer<typeof SeverityChange>;

/** What was usual of a spindle at a speed, and from where on a change counts. */
const UsualView = z.object({
  usualMmS: z.number(),
  readings: z.int(),
  since: At,
  stepMmS: z.number(),
  stepIs: z.enum(STEP_SHARES),
  risenFromMmS: z.number(),
  fallenFromMmS: z.number(),
  rung: Rung.optional(),
  rungSince: At.optional(),
});

/** One of the speeds that a spindle really runs. */
export const SeverityBin = z.object({
  speedBin: z.int(),
  speedRpm: z.number(),
  fromSpeedRpm: z.number(),
  toSpeedRpm: z.number(),
  readings: z.int(),
  lastAt: At,
  /** Overall velocity, RMS, smoothed; absent where no reading could be judged there. */
  levelMmS: z.number().optional(),
  against: Against.optional(),
  rung: Rung.optional(),
  rungSince: At.optional(),
  /** Where the level itself lies, if elsewhere: not for so long yet that it is a move. */
  levelRung: Rung.optional(),
  /** The boundary next above. */
  boundaryMmS: z.number().optional(),
  source: z.string().optional(),
  usual: UsualView.optional(),
  /** While what is usual is being learned: readings so far, and the hours of turning that they span. */
  learning: z.object({ readings: z.int(), hours: z.number() }).optional(),
  words: z.string(),
});
export type SeverityBin = z.infer<typeof SeverityBin>;

export const SeverityView = z.object({
  /** The bin of the last reading that could be judged. */
  nowBin: z.int().optional(),
  bins: z.array(SeverityBin),
  zones: ZoneTable.and(z.object({ enteredBy: z.string().optional() })).optional(),
  /** Newest first; older ones stand in the journal. */
  history: z.array(SeverityChange),
});
export type SeverityView = z.infer<typeof SeverityView>;

const ZONE_ENDS = { A: 'abMmS', B: 'bcMmS', C: 'cdMmS', D: 'cdMmS' } as const satisfies Record<
  Zone,
  'abMmS' | 'bcMmS' | 'cdMmS'
>;

/** The upper boundary of a zone; of D, which has none, its lower one. mm/s RMS. */
export function zoneEndMmS(table: ZoneTable, zone: Zone): number {
  return table[ZONE_ENDS[zone]];
}
