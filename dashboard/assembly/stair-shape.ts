// The treads of the speed stair: from the highest limit down to the one that governs, all on one scale from zero. Pure.
import type { AssemblyView } from '../../shared/assembly-views.ts';

type Step = AssemblyView['speedStair'][number];

export interface StairTread {
  readonly step: Step;
  /** Where its speed stands on the common scale. */
  readonly x: number;
  readonly xOf: (speedRpm: number) => number;
}

const ROOM = 1.02;

export function stairShape(steps: readonly Step[], serviceSpeedRpm: number | undefined, widthPx: number): StairTread[] {
  const greatest = Math.max(...steps.map(({ speedRpm }) => speedRpm), serviceSpeedRpm ?? 0) * ROOM;
  const xOf = (speedRpm: number): number => Math.round((speedRpm / greatest) * widthPx);
  return [...steps].sort((a, b) => b.speedRpm - a.speedRpm).map((step) => ({ step, x: xOf(step.speedRpm), xOf }));
}
