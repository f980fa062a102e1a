// A step as the person at the drill press, the mill or the assembly bench reads it.
import type { CorrectionFeature, CorrectionStep, FeatureOf } from '../messages/index.ts';
import { apartDeg } from './angles.ts';
import { ringsStood, screwNowG } from './effect-of-step.ts';
import { chordMm } from './flat-geometry.ts';
import { pointHeightMm } from './hole-geometry.ts';
import { deg, diameter, grams, mm } from './number-words.ts';
import { say } from '../language/index.ts';

export function stepWords(feature: CorrectionFeature, step: CorrectionStep): string {
  const words = wordsOf(feature, step);
  const { positionMm } = feature;
  const { plane } = step;
  if (positionMm === undefined) return plane === undefined ? words : say`plane ${plane}: ${words}`;
  const at = mm(positionMm);
  return plane === undefined
    ? say`at ${at} along the axis: ${words}`
    : say`plane ${plane}, at ${at} along the axis: ${words}`;
}

function wordsOf(feature: CorrectionFeature, step: CorrectionStep): string {
  const at = deg(step.angleDeg);
  switch (feature.kind) {
    case 'rings':
      return ringWords(feature, step);
    case 'radial-holes':
      return say`drill ${drill(step)} radially at ${at}, ${depth(feature, step)}, from the surface at radius ${mm(feature.radiusMm)}`;
    case 'axial-holes':
      return say`drill ${drill(step)} along the axis at ${at} on pitch radius ${mm(feature.radiusMm)}, ${depth(feature, step)}`;
    case 'flats': {
      const { radiusMm, widthMm } = feature;
      const across = mm(chordMm({ radiusMm, widthMm, depthMm: step.depthMm ?? 0 }));
      return say`cut a flat at ${at}, ${mm(step.depthMm ?? 0)} deep from the surface at radius ${mm(radiusMm)}, ${mm(widthMm)} along the axis (${across} across)`;
    }
    case 'set-screws':
      return screwWords(feature, step);
    case 'added-mass':
      return say`fix ${grams(step.massG ?? 0)} at ${at}, its centre of mass at radius ${mm(feature.radiusMm)}`;
  }
}

const drill = (step: CorrectionStep): string => diameter(step.diameterMm ?? 0);

function depth({ pointAngleDeg }: { readonly pointAngleDeg: number }, step: CorrectionStep): string {
  const depthMm = step.depthMm ?? 0;
  const tipMm = depthMm + pointHeightMm(step.diameterMm ?? 0, pointAngleDeg);
  return say`${mm(depthMm)} deep to the shoulder of the point (${mm(tipMm)} to its tip)`;
}

function ringWords(feature: FeatureOf<'rings'>, { ring = 1, angleDeg }: CorrectionStep): string {
  const stood = ringsStood(feature)?.[ring === 1 ? 0 : 1];
  const stays = feature.standAtDeg !== undefined && stood !== undefined && apartDeg(stood, angleDeg) < 1e-6;
  return stays
    ? say`leave ring ${ring} with its heavy side at ${deg(angleDeg)}`
    : say`set ring ${ring} with its heavy side at ${deg(angleDeg)}`;
}

function screwWords(feature: FeatureOf<'set-screws'>, { angleDeg, massG = 0 }: CorrectionStep): string {
  const nowG = screwNowG(feature, angleDeg);
  const hole = say`the hole at ${deg(angleDeg)}`;
  if (massG === 0) return say`take the ${grams(nowG)} screw out of ${hole}`;
  const name = feature.stock.find((screw) => screw.massG === massG)?.name;
  const screw = name === undefined ? say`a screw of ${grams(massG)}` : say`a screw ${name} of ${grams(massG)}`;
  return nowG === 0 ? say`set ${screw} into ${hole}` : say`in ${hole} set ${screw} in place of the ${grams(nowG)} one`;
}
