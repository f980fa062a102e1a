// A step of a correction as it is set down in tables: what is set at its place, each number with its unit. Pure.
import type { CorrectionFeature, CorrectionStep } from '../../shared/messages/index.ts';
import { degrees, graduation } from '../wording/figures.ts';
import { say } from '../../shared/language/index.ts';

/** Of a step that was done, when only its numbers are known: ⌀6 mm, 8.2 mm deep at 214°. */
export function stepWords(step: CorrectionStep, feature: CorrectionFeature | undefined): string {
  const plane = step.plane ?? feature?.plane;
  const [setting, angle] = [settingWords(step, feature), degrees(step.angleDeg)];
  return plane === undefined ? say`${setting} at ${angle}` : say`${setting} at ${angle}, plane ${plane}`;
}

function settingWords(step: CorrectionStep, feature: CorrectionFeature | undefined): string {
  if (step.ring !== undefined) return say`ring ${step.ring}: heavy side`;
  if (step.massG !== undefined) return step.massG === 0 ? say`hole emptied` : say`${graduation(step.massG)} g`;
  const drill = feature?.kind === 'flats' ? [say`flat`] : sized(step.diameterMm, (mm) => say`⌀${mm} mm`);
  return [...drill, ...sized(step.depthMm, (mm) => say`${mm} mm deep`)].join(', ');
}

function sized(valueMm: number | undefined, words: (mm: string) => string): string[] {
  return valueMm === undefined ? [] : [words(graduation(valueMm))];
}
