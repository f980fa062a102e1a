// What a file holds that was not expected, each by its place.
import type * as z from 'zod';

/** The schema was asked with PLAIN of shared/fault-words.ts. */
export function faultsOf({ issues }: z.ZodError): readonly string[] {
  return issues.map(({ path, message }) => `${path.join('.') || 'all of it'}: ${message}`);
}
