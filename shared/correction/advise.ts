// From a question to the ranked list: every method that is declared, best first, and what forbids the others.
import type { Advice, AdvicePlan, AdviceRefusal, Predicted } from '../advice.ts';
import {
  ADVISORY,
  BALANCE_IS_NOT_STRENGTH,
  CORRECTION_WEAKENS,
  MEASURE_AGAIN,
  SECURE_WHAT_TURNS,
} from '../cautions.ts';
import { chosenDrafts } from './chosen.ts';
import { sizeOf } from './direction.ts';
import { pairsIn } from './combined.ts';
import { draftsOf, untouched, type Drafted } from './drafts.ts';
import { PLANS_MAX, SEARCH_STEPS_DEFAULT } from './limits.ts';
import { COINCIDE_WORDS, planesCoincide } from './locations.ts';
import { gmm, gmmWithError, joined } from './number-words.ts';
import { searchOf, type Draft } from './plan.ts';
import { notesOf } from './plan-notes.ts';
import type { CorrectionQuestion } from './question.ts';
import { becauseOf } from './rank.ts';
import { refusalOf } from './refusals.ts';
import { leavesTooMuch } from './unfinished.ts';
import type { ProvenScrews } from './screw-candidates.ts';
import { askedAt, siteTasks, sitesOf, type Site } from './sites.ts';
import { titleOf } from './titles.ts';
import { say } from '../language/index.ts';

/**
 * Pure. Throws a RangeError for a negative or non-finite number. `proven` are screw searches that were run to their
 * end elsewhere.
 */
export function adviseCorrection(question: CorrectionQuestion, proven: readonly ProvenScrews[] = []): Advice {
  expectNumbers(question);
  const asItIs = untouched(question);
  if (asItIs.verdict === 'within')
    return withoutPlans(question, false, say`it is within: nothing needs to be corrected`, []);
  if (planesCoincide(question.planes)) return withoutPlans(question, true, COINCIDE.why, [COINCIDE]);
  if (question.features.length === 0) return withoutPlans(question, true, NO_FEATURE.why, [NO_FEATURE]);
  const { sites, refusals } = sitesOf(question);
  const steps = question.searchStepsMax ?? SEARCH_STEPS_DEFAULT;
  const drafted = draftsOf({ question, sites, proven, steps });
  const worthwhile = chosenDrafts(drafted.drafts, asItIs);
  const chosen = worthwhile.slice(0, PLANS_MAX);
  const plans = chosen.map((draft, i) => planOf(question, draft, chosen[i - 1] ?? null));
  return {
    needed: true,
    sentence: sentenceOf({ asItIs, chosen, plans, none: noneWords(question, sites, drafted) }),
    plans: withIds(plans),
    refusals: [...refusals, ...notEnough(question, sites, worthwhile, drafted), ...beyondJudging(question)],
    limitsOf: limitsOf(question),
    cautions: cautionsFor(chosen),
  };
}

const COINCIDE: AdviceRefusal = {
  method: say`correction in two planes`,
  featureIds: [],
  why: COINCIDE_WORDS,
  wouldNeed: say`two planes apart from each other, or the measurement taken as one plane`,
};

const NO_FEATURE: AdviceRefusal = {
  method: say`any`,
  featureIds: [],
  why: say`no place is declared at which it can be corrected`,
  wouldNeed: say`the correction features of the build, from the holder maker's sheet: rings, screws, where one may drill and how deep`,
};

function planOf(question: CorrectionQuestion, draft: Draft, before: Draft | null): AdvicePlan {
  return {
    planId: [...new Set(draft.parts.flatMap(({ candidate }) => candidate.steps.map(({ kind }) => kind)))].join('+'),
    title: titleOf(draft, question.planes.length > 1),
    steps: draft.parts.flatMap(({ candidate }) => candidate.steps),
    predicted: [...draft.predicted],
    whole: draft.whole,
    removedG: draft.removedG,
    addedG: draft.addedG,
    because: becauseOf(draft, before),
    notes: [...notesOf(question, draft)],
    ...searchOf(draft),
  };
}

/** By the methods; where several are alike, numbered in their order. */
function withIds(plans: readonly AdvicePlan[]): AdvicePlan[] {
  const seen = new Map<string, number>();
  return plans.map((plan) => {
    const number = (seen.get(plan.planId) ?? 0) + 1;
    seen.set(plan.planId, number);
    return number === 1 ? plan : { ...plan, planId: `${plan.planId}.${number}` };
  });
}

/** A feature that no plan with it brings within says why. */
function notEnough(
  question: CorrectionQuestion,
  sites: readonly Site[],
  chosen: readonly Draft[],
  { unfinished }: Drafted,
): readonly AdviceRefusal[] {
  if (leavesTooMuch(question, sites)) return [onePlaneOnly(sites, chosen[0] ?? untouched(question))];
  const tasks = siteTasks(question, sites);
  return sites.flatMap((site) => {
    // Together with another site, where there is one: that is what it would have to do.
    const wanted = tasks.flatMap(({ at }) => at.filter((one) => one.site === site)).at(-1)?.wanted ?? { x: 0, y: 0 };
    const { errorGmm, limitGmm } = askedAt(question, site.location);
    const isWithin = limitGmm !== null && sizeOf(wanted) + errorGmm <= limitGmm;
    return site.features
      .filter(({ featureId }) => !isWithin && !chosen.some((draft) => serves(draft, featureId)))
      .map((feature) => refusalOf(feature, wanted, !unfinished.has(feature.featureId)));
  });
}

function onePlaneOnly(sites: readonly Site[], { predicted }: Draft): AdviceRefusal {
  const over = predicted.filter(({ verdict }) => verdict === 'exceeds');
  const words = over
    .map(({ plane, residualGmm, permissibleGmm = 0 }) => ({ plane, keeps: gmm(residualGmm), of: gmm(permissibleGmm) }))
    .reduce(
      (before, { plane, keeps, of }) =>
        before === ''
          ? say`plane ${plane} keeps ${keeps} of ${of} permitted`
          : say`${before}, plane ${plane} keeps ${keeps} of ${of} permitted`,
      '',
    );
  return {
    method: say`correction in two planes`,
    featureIds: sites.flatMap(({ features }) => features.map(({ featureId }) => featureId)),
    why: say`it can be corrected at one place along the axis only (${sites[0]?.location.words ?? ''}): ${words || say`a couple is left`}`,
    wouldNeed: say`a second place along the axis at which it can be corrected`,
  };
}

const serves = ({ verdict, parts }: Draft, featureId: string): boolean =>
  verdict !== 'exceeds' &&
  parts.some(({ candidate }) => candidate.features.length === 1 && candidate.features[0]?.featureId === featureId);

/** What no correction can help: nothing to judge by, or a bench that is too coarse for what is demanded. */
function beyondJudging({ planes, wholeErrorGmm, wholePermissibleGmm }: CorrectionQuestion): readonly AdviceRefusal[] {
  const limits = planes.flatMap(({ permissibleGmm, errorGmm }) =>
    permissibleGmm === null ? [] : [{ permissibleGmm, errorGmm }],
  );
  if (wholePermissibleGmm !== null) limits.push({ permissibleGmm: wholePermissibleGmm, errorGmm: wholeErrorGmm });
  const verdict = { method: say`verdict`, featureIds: [] };
  if (limits.length === 0) {
    const why = say`nothing is demanded: whether it is enough cannot be said`;
    return [{ ...verdict, why, wouldNeed: say`mass, service speed and grade` }];
  }
  const over = limits.find(({ permissibleGmm, errorGmm }) => errorGmm > permissibleGmm);
  if (over === undefined) return [];
  const why = say`the measuring error of ${gmm(over.errorGmm)} alone is more than the ${gmm(over.permissibleGmm)} permitted`;
  return [{ ...verdict, why, wouldNeed: say`a measurement with a smaller error, or a coarser demand` }];
}

function expectNumbers({ planes, wholeErrorGmm, wholePermissibleGmm, centreOfMassMm }: CorrectionQuestion): void {
  const errors = [wholeErrorGmm, ...planes.map(({ errorGmm }) => errorGmm)];
  const limits = [wholePermissibleGmm, ...planes.map(({ permissibleGmm }) => permissibleGmm)];
  const positions = [centreOfMassMm, ...planes.map(({ positionMm }) => positionMm)];
  const fault =
    errors.find((errorGmm) => !(Number.isFinite(errorGmm) && errorGmm >= 0)) ??
    limits.find((limitGmm) => limitGmm !== null && !(Number.isFinite(limitGmm) && limitGmm > 0)) ??
    positions.find((positionMm) => positionMm !== null && !Number.isFinite(positionMm));
  if (fault !== undefined && fault !== null) {
    throw new RangeError(`an error of at least 0, a limit above 0 and finite positions are expected, came ${fault}`);
  }
}

/** That nothing suffices is said as a fact only where all was looked at: one plane, one method at a time. */
function noneWords(question: CorrectionQuestion, sites: readonly Site[], { isFinished }: Drafted): string {
  if (!isFinished && !leavesTooMuch(question, sites))
    return say`none found so far brings it within; the search is not finished`;
  const every =
    leavesTooMuch(question, sites) ||
    (question.planes.length === 1 && sites.every(({ features }) => pairsIn(features) === 0));
  return every ? say`no method brings it within` : say`no method was found that brings it within`;
}

interface Told {
  readonly asItIs: Draft;
  readonly chosen: readonly Draft[];
  readonly plans: readonly AdvicePlan[];
  /** That nothing is enough. */
  readonly none: string;
}

function sentenceOf({ asItIs, chosen, plans, none }: Told): string {
  const now = amounts(asItIs);
  const [best] = chosen;
  const title = plans[0]?.title ?? '';
  const one = asItIs.predicted.length === 1;
  switch (best?.verdict) {
    case undefined:
      // Where nothing is demanded there is nothing to be within.
      if (asItIs.verdict === 'cannot-judge') return say`nothing was found that takes enough of ${now} away: see why`;
      return one ? say`${none}: ${now} stays, see why` : say`${none}: ${now} stay, see why`;
    case 'within': {
      const left = amounts(best, withError);
      return `${title}: ${one ? say`${now} comes down to ${left}, predicted within` : say`${now} come down to ${left}, predicted within`}`;
    }
    case 'undecided': {
      const left = amounts(best);
      return `${title}: ${one ? say`${now} comes down to ${left}; whether that is within only a measurement can tell` : say`${now} come down to ${left}; whether that is within only a measurement can tell`}`;
    }
    case 'exceeds':
      return say`${none}; nearest comes ${title}, with ${amounts(best)} left of ${now}`;
    case 'cannot-judge': {
      const left = amounts(best);
      return `${title}: ${one ? say`${now} comes down to ${left}; nothing is demanded to judge it by` : say`${now} come down to ${left}; nothing is demanded to judge it by`}`;
    }
  }
}

const residual = ({ residualGmm }: Predicted): string => gmm(residualGmm);
const withError = ({ residualGmm, errorGmm }: Predicted): string => gmmWithError(residualGmm, errorGmm);

/** With two planes each of them: opposite to each other they may leave next to nothing of the whole and much of a couple. */
function amounts({ predicted, whole }: Draft, told = residual): string {
  if (predicted.length === 1) return told(whole);
  return say`${joined(predicted.map((plane) => say`${told(plane)} in plane ${plane.plane}`))} (the whole ${told(whole)})`;
}

function withoutPlans(
  question: CorrectionQuestion,
  needed: boolean,
  sentence: string,
  refusals: readonly AdviceRefusal[],
): Advice {
  return {
    needed,
    sentence,
    plans: [],
    refusals: [...refusals],
    limitsOf: limitsOf(question),
    cautions: cautionsFor([]),
  };
}

function limitsOf({ features }: CorrectionQuestion): Advice['limitsOf'] {
  return features.map(({ featureId, source }) => (source === undefined ? { featureId } : { featureId, source }));
}

function cautionsFor(chosen: readonly Draft[]): string[] {
  const removes = chosen.some(({ removedG }) => removedG > 0);
  const weakens = removes ? [CORRECTION_WEAKENS] : [];
  return [ADVISORY, BALANCE_IS_NOT_STRENGTH, ...weakens, SECURE_WHAT_TURNS, MEASURE_AGAIN];
}
