// What every device says of itself, and what it may ask: birth, state (its will too), the question at the gate.
import * as z from 'zod';
import { DEVICE_KINDS, Id } from '../ids.ts';
import { quantity, SpeedRpm } from '../quantity.ts';
import { Rfc3339 } from '../time-schema.ts';

export const Birth = z.object({
  kind: z.enum(DEVICE_KINDS),
  serial: z.string().max(80).optional(),
  firmware: z.string().max(80).optional(),
  serves: z
    .array(Id)
    .max(64)
    .optional()
    .describe('the spindle a sensor sits on, or those a machine control answers for; the enrolment overrules it'),
  intervalS: quantity('s', { min: 0.05, max: 86_400 }, 'how often it reports').optional(),
  calibratedUntil: Rfc3339.optional(),
  channels: z
    .array(z.object({ name: z.string().min(1).max(40), unit: z.string().max(20), max: z.number().optional() }))
    .max(32)
    .optional(),
});
export type Birth = z.infer<typeof Birth>;

export const DeviceState = z.object({
  online: z.boolean(),
  reason: z.enum(['connected', 'lost', 'stopped']).optional(),
});
export type DeviceState = z.infer<typeof DeviceState>;

/** May this assembly run in this spindle at this speed? */
export const GateQuestion = z.object({
  spindleId: Id,
  assemblyId: Id,
  speedRpm: SpeedRpm.optional(),
});
export type GateQuestion = z.infer<typeof GateQuestion>;
