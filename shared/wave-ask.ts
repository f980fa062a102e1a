// What a sensor is told on back/<device>/ask: a raw window is wanted now.
import * as z from 'zod';

export const WAVE_ASK_TYPE = 'counterpoise.ask.v1';

export const WaveAsk = z.object({
  ask: z.enum(['wave']).describe('what is wanted; more words may come: one that is not known is left alone'),
  id: z.string().describe('of the question: the window that answers it bears it as `asked`'),
  spindleId: z.string().describe('of which spindle, for a sensor that serves several'),
  channel: z.string().optional().describe('left out: whatever the sensor measures'),
});
export type WaveAsk = z.infer<typeof WaveAsk>;
