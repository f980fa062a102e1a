// What a person has to know to connect a device: where the broker of this service listens, and which release it is.
import * as z from 'zod';

export const Connecting = z.object({
  version: z.string(),
  /** Absent where devices talk to an external broker. */
  broker: z.object({ host: z.string(), port: z.int(), tls: z.boolean() }).optional(),
  /** The service made its certificate itself: devices need what signed it, from /certificate. */
  ownAuthority: z.boolean(),
});
export type Connecting = z.infer<typeof Connecting>;
