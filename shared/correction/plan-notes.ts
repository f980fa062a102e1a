// What a person has to know beside the steps of a plan.
import { resolveStaticAndCouple } from '../balance/index.ts';
import { gmm } from './number-words.ts';
import { isRemoval } from './place-kinds.ts';
import type { Draft } from './plan.ts';
import type { CorrectionQuestion } from './question.ts';
import { say } from '../language/index.ts';

export function notesOf(question: CorrectionQuestion, draft: Draft): readonly string[] {
  return [...unsourced(draft), ...measureBetween(draft), ...coupleLeft(question, draft), ...firstAnswer(draft)];
}

function unsourced({ parts }: Draft): readonly string[] {
  const features = parts.flatMap(({ candidate }) => candidate.features);
  return features
    .filter((feature) => isRemoval(feature) && feature.source === undefined)
    .map(
      ({ featureId }) =>
        say`No source is named for the depth, wall and zone limits of ${featureId}: ask the holder's maker before anything is removed.`,
    );
}

/** What a drill or a cutter leaves is known best once it is measured. */
function measureBetween({ parts }: Draft): readonly string[] {
  if (parts.every(({ candidate }) => candidate.features.length < 2)) return [];
  return [say`Measure again after the coarse steps: what is left then tells how to set the fine ones.`];
}

/** With one plane corrected out of two a couple stays: how large, and whether a plane keeps more than its share. */
function coupleLeft(
  { planes, centreOfMassMm }: CorrectionQuestion,
  { parts, predicted, whole }: Draft,
): readonly string[] {
  const [a, b] = planes;
  if (b === undefined || parts.filter(({ candidate }) => candidate.steps.length > 0).length > 1) return [];
  const [leftA, leftB] = predicted;
  if (leftA === undefined || leftB === undefined) return [];
  const over = [leftA, leftB].filter(({ verdict }) => verdict === 'exceeds').map(({ plane }) => plane);
  const [one, other] = over;
  const excess =
    one === undefined
      ? ''
      : other === undefined
        ? say`; plane ${one} keeps more than its share`
        : say`; both planes keep more than their shares`;
  if (a.positionMm === null || b.positionMm === null) {
    return [
      say`Corrected in one plane only: a couple is left, ${gmm(leftA.residualGmm)} and ${gmm(leftB.residualGmm)} in the planes${excess}.`,
    ];
  }
  const { coupleGmm2, couplePairInB } = resolveStaticAndCouple(
    { gmm: leftA.residualGmm, angleDeg: leftA.angleDeg },
    { gmm: leftB.residualGmm, angleDeg: leftB.angleDeg },
    {
      planeAMm: a.positionMm,
      planeBMm: b.positionMm,
      centreOfMassMm: centreOfMassMm ?? (a.positionMm + b.positionMm) / 2,
    },
  );
  const pair = say`${gmm(couplePairInB.gmm)} in each plane, opposite to each other`;
  const couple = say`a couple of ${Math.round(coupleGmm2)} g·mm² (${pair})`;
  return [
    say`Corrected in one plane only: a static part of ${gmm(whole.residualGmm)} and ${couple} are left${excess}.`,
  ];
}

function firstAnswer({ parts }: Draft): readonly string[] {
  if (parts.every(({ candidate }) => candidate.exact)) return [];
  return [say`A first answer: not all settings were looked at, others may leave less.`];
}
