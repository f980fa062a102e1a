// A hold as it leaves the service in an envelope, retained on MQTT or as a notice: as people see it, with times as texts.
import * as z from 'zod';
import { Escalation } from './answering.ts';
import { PlannedWorkView } from './planned-work.ts';
import { Rfc3339 } from './time-schema.ts';
import { rfc3339Of } from './time.ts';
import { HoldView } from './views.ts';

/** Who was told of it is nobody's business but the plant's. */
export const HoldMessage = HoldView.omit({ notices: true }).extend({
  raisedAt: Rfc3339,
  changedAt: Rfc3339,
  steps: z.array(HoldView.shape.steps.element.extend({ at: Rfc3339 })),
  escalations: z.array(Escalation.extend({ at: Rfc3339 })).optional(),
  secondName: z.object({ askedBy: z.string(), at: Rfc3339, note: z.string().optional() }).optional(),
  work: z.array(PlannedWorkView.extend({ from: Rfc3339, until: Rfc3339 })).optional(),
});
export type HoldMessage = z.infer<typeof HoldMessage>;

export function holdMessage({ notices: _notices, raisedAt, changedAt, steps, ...rest }: HoldView): HoldMessage {
  const { escalations, secondName, work, ...view } = rest;
  return {
    ...view,
    raisedAt: rfc3339Of(raisedAt),
    changedAt: rfc3339Of(changedAt),
    steps: steps.map((step) => ({ ...step, at: rfc3339Of(step.at) })),
    ...(escalations === undefined
      ? {}
      : { escalations: escalations.map((one) => ({ ...one, at: rfc3339Of(one.at) })) }),
    ...(secondName === undefined ? {} : { secondName: { ...secondName, at: rfc3339Of(secondName.at) } }),
    ...(work === undefined
      ? {}
      : { work: work.map((one) => ({ ...one, from: rfc3339Of(one.from), until: rfc3339Of(one.until) })) }),
  };
}
