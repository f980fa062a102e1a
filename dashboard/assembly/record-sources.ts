// What the figures of a balance record rest on, and what of it was written from memory.
import type { MeasurementView } from '../../shared/assembly-views.ts';
import { say } from '../../shared/language/index.ts';
import { whole } from '../wording/figures.ts';

/** What a measuring error was made of, and by whom, stands with it. */
export function recordSources(newest: MeasurementView | undefined): string[] {
  const sources = [
    say`Permissible residual unbalance in g·mm: ${whole(60_000)} ÷ 2π × grade in mm/s × mass in kg ÷ service speed in rpm; ISO 21940-11.`,
    say`Within: residual and measuring error together are at most what is permissible. Exceeds: the residual less its error is more. Undecided: neither; ISO 21940-14. How the error’s parts are put together: from memory.`,
  ];
  if ((newest?.planes.length ?? 0) > 1)
    sources.push(
      say`Two planes judged each against its share and as their vector sum: ISO 21940-11; the bounds of the shares: from memory.`,
    );
  sources.push(say`Cautions: common practice, no source.`);
  return sources;
}
