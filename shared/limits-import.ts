// What is said of a file of limits: each fault by its line and field, and what the declarations would be changed by.
import * as z from 'zod';

/** Two limits of each of some thousand spindles, with a source in a sentence. */
export const LIMIT_FILE_CHARACTERS_MAX = 2_000_000;

export const LimitFileFault = z.object({
  line: z.int().describe('1 is the first; 0: the file as a whole'),
  field: z.string().describe('empty: the row as a whole'),
  want: z.string(),
  got: z.string(),
});
export type LimitFileFault = z.infer<typeof LimitFileFault>;

/** In words; a limit that is entered again as it was is in none of the lists. */
export const LimitChange = z.object({
  spindleId: z.string(),
  adds: z.array(z.string()),
  removes: z.array(z.string()),
  same: z.int().describe('rows that were declared so already'),
});
export type LimitChange = z.infer<typeof LimitChange>;

export const LimitsImported = z.object({
  done: z.boolean().describe('false: only checked, or nothing was done because of a fault'),
  rows: z.object({ limits: z.int(), zones: z.int(), bearings: z.int() }),
  faults: z.array(LimitFileFault),
  changes: z.array(LimitChange),
});
export type LimitsImported = z.infer<typeof LimitsImported>;

export const LimitsFile = z.object({
  text: z.string().min(1).max(LIMIT_FILE_CHARACTERS_MAX).describe('the file itself, YAML or CSV'),
});
