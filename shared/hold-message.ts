// A hold as it leaves the service in an envelope, retained on MQTT or as a notice: as people see it, with times as texts.
import * as z from 'zod';
import { Rfc3339 } from './time-schema.ts';
import { rfc3339Of } from './time.ts';
import { HoldView } from './views.ts';

/** Who was told of it is nobody's business but the plant's. */
export const HoldMessage = HoldView.omit({ notices: true }).extend({
  raisedAt: Rfc3339,
  changedAt: Rfc3339,
  steps: z.array(HoldView.shape.steps.element.extend({ at: Rfc3339 })),
});
export type HoldMessage = z.infer<typeof HoldMessage>;

export function holdMessage({ notices: _notices, raisedAt, changedAt, steps, ...view }: HoldView): HoldMessage {
  return {
    ...view,
    raisedAt: rfc3339Of(raisedAt),
    changedAt: rfc3339Of(changedAt),
    steps: steps.map((step) => ({ ...step, at: rfc3339Of(step.at) })),
  };
}
