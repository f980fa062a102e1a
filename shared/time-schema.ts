// How a time is written at the edges, checked.
import * as z from 'zod';

/** RFC 3339 with a zone; any offset is read, UTC is written. */
export const Rfc3339 = z.iso
  .datetime({ offset: true, error: 'expected an RFC 3339 time such as 2026-11-24T07:31:05.120Z' })
  .meta({ description: 'RFC 3339 time, e.g. 2026-11-24T07:31:05.120Z' });
