// History that the service is still reading after a start: pages say so, and ask again by themselves until all of it is there.
import { nothing, type TemplateResult } from 'lit';
import { html } from './language/html.ts';
import type { PageData } from './page-data.ts';

interface StillRead {
  readonly stillReadPercent?: number | undefined;
}

const ASK_AGAIN_LEAST_MS = 5000;

/** Nothing where all of it is read. */
export function stillReadLine(view: StillRead | undefined): TemplateResult | typeof nothing {
  const percent = view?.stillReadPercent;
  if (percent === undefined) return nothing;
  return html`<p class="soft" role="status">
    The service has started and still reads its history: ${percent} % so far. What is missing here may yet come.
  </p>`;
}

/** For a page's every update: another question where the last answer was not all yet and lies some seconds back. */
export function askWhileRead(kept: PageData<StillRead>): void {
  if (kept.value?.stillReadPercent !== undefined && kept.mayAskAgain(ASK_AGAIN_LEAST_MS)) void kept.again();
}
