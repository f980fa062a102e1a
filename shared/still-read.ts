// How far the history is read while it is: after a start what pages show of it may be missing only for now.
import * as z from 'zod';

export const StillReadPercent = z
  .int()
  .min(0)
  .max(99)
  .optional()
  .describe('while the history is still being read from the journal after a start: how much of it is; else absent');
