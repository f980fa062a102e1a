// What the figures of a balance record rest on, and what of it was written from memory.
import type { AssemblyView, MeasurementView } from '../../shared/assembly-views.ts';

export function recordSources(
  { interface: fits, reclampingUm }: AssemblyView,
  newest: MeasurementView | undefined,
): string[] {
  const sources = [
    'Permissible residual unbalance in g·mm: 60,000 ÷ 2π × grade in mm/s × mass in kg ÷ service speed in rpm; ISO 21940-11.',
    'Within: residual and measuring error together are at most what is permissible. Exceeds: the residual less its error is more. Undecided: neither; ISO 21940-14. How the error’s parts are put together: from memory.',
  ];
  if ((newest?.planes.length ?? 0) > 1)
    sources.push(
      'Two planes judged each against its share and as their vector sum: ISO 21940-11; the bounds of the shares: from memory.',
    );
  if (fits !== undefined && reclampingUm === undefined)
    sources.push(
      'Scatter of clamping anew, by the kind of interface; the build tells none of its own: from memory, no maker’s figure.',
    );
  sources.push('Cautions: common practice, no source.');
  return sources;
}
