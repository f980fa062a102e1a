// The steps of a plan by the measuring plane they lie in: each plane has its own end view, the numbers go through. Pure.
import type { AdviceStep } from '../../shared/advice.ts';

export interface PlaneGroup {
  readonly plane: string | undefined;
  readonly steps: readonly AdviceStep[];
  /** Their numbers in the plan's own table. */
  readonly numbers: readonly number[];
}

/** With one measured plane all steps are one group, whatever they say of planes. */
export function planeGroups(steps: readonly AdviceStep[], planes: readonly { readonly name: string }[]): PlaneGroup[] {
  const numbered = steps.map((step, index) => ({ step, number: index + 1 }));
  const names = planes.length < 2 ? [undefined] : [...new Set(steps.map(({ plane }) => plane))];
  return names.map((plane) => {
    const mine = planes.length < 2 ? numbered : numbered.filter(({ step }) => step.plane === plane);
    return { plane, steps: mine.map(({ step }) => step), numbers: mine.map(({ number }) => number) };
  });
}
