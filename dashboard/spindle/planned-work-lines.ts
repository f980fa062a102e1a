// Work that is planned on a spindle, told on its page, and declared there by whoever looks after it.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { PlannedWorkView } from '../../shared/planned-work.ts';
import type { Api } from '../api.ts';
import '../holds/plan-work.ts';
import { moment, type PlantClock } from '../wording/instants.ts';

export interface WorkOf {
  readonly spindleId: string;
  readonly work: readonly PlannedWorkView[];
  readonly mayPlan: boolean;
  readonly api: Api;
  readonly clock: PlantClock;
  readonly onPlanned: () => void;
}

export function plannedWork({
  spindleId,
  work,
  mayPlan,
  api,
  clock,
  onPlanned,
}: WorkOf): TemplateResult | typeof nothing {
  if (work.length === 0 && !mayPlan) return nothing;
  return html`${work.map(
    ({ from, until, by, note, now }) =>
      html`<p>
        <b>Work is planned${now ? say`, now` : nothing}:</b> ${moment(from, clock)} until ${moment(until, clock)}, by
        ${by}: “${note}”. Its readings are marked meanwhile, judged by no limit, and teach nothing.
      </p>`,
  )}
  ${
    mayPlan
      ? html`<plan-work
          class="not-printed"
          .api=${api}
          .clock=${clock}
          .spindleId=${spindleId}
          .work=${work}
          @counterpoise-work-planned=${onPlanned}
        ></plan-work>`
      : nothing
  }`;
}
