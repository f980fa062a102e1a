// A step of a correction as it is set down in tables: what is set at its place, each number with its unit. Pure.
import type { CorrectionFeature, CorrectionStep } from '../../shared/messages/index.ts';
import { degrees, graduation } from '../wording/figures.ts';

/** Of a step that was done, when only its numbers are known: ⌀6 mm, 8.2 mm deep at 214°. */
export function stepWords(step: CorrectionStep, feature: CorrectionFeature | undefined): string {
  const at = `at ${degrees(step.angleDeg)}`;
  if (step.ring !== undefined) return `ring ${step.ring}: heavy side ${at}`;
  if (step.massG !== undefined) return step.massG === 0 ? `hole emptied ${at}` : `${graduation(step.massG)} g ${at}`;
  const drill = step.diameterMm === undefined ? '' : `⌀${graduation(step.diameterMm)} mm, `;
  const depth = step.depthMm === undefined ? '' : `${graduation(step.depthMm)} mm deep `;
  return `${feature?.kind === 'flats' ? 'flat, ' : drill}${depth}${at}`;
}
