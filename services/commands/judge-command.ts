// counterpoise judge: a residual against its demand, with the measuring error counted.
import type { Command } from 'commander';
import {
  allocateToPlanes,
  angleError,
  combineErrors,
  judgeResult,
  minimumAchievableError,
  reclampingError,
  scaleError,
  sumUnbalance,
  type BalanceDemand,
  type ErrorBudget,
  type InterfaceScatter,
  type JudgedPart,
  type MeasuredResult,
  type ResultVerdict,
} from '../../shared/balance/index.ts';
import { ADVISORY, BALANCE_IS_NOT_STRENGTH } from '../../shared/cautions.ts';
import {
  errorExplained,
  gradeExplained,
  highestSpeedExplained,
  permissibleExplained,
  shareExplained,
  verdictExplained,
} from './balance-explanations.ts';
import {
  demandOf,
  geometryTold,
  massRemarks,
  scatterTold,
  withDemand,
  withInterface,
  withPlanes,
} from './balance-flags.ts';
import { calculating, once, type FlagReader } from './calculation-options.ts';
import type { Answer, Explanation } from './explain.ts';
import { inFigures, showValue, ValueFault, type QuantityName } from './value-units.ts';

export function addJudge(program: Command): void {
  const command = withPlanes(withInterface(withDemand(program.command('judge'))))
    .description('judge a measured residual against what is permitted, with the measuring error')
    .option('--residual <value>', 'measured residual, of one plane: 3gmm, 0.002ozin', once)
    .option('--smallest-achievable <value>', 'the bench’s minimum achievable residual: 0.5gmm', once)
    .option('--scale-error <value>', 'of the bench: 3%', once)
    .option('--angle-error <value>', 'of setting a correction, in degrees', once)
    .option('--corrected <value>', 'the correction that was set, for --angle-error: 40gmm', once)
    .addHelpText(
      'after',
      '\nExample:\n  counterpoise judge --residual 2.1gmm --mass 1.2kg --speed 12000 --grade G2.5 --smallest-achievable 0.3gmm\n',
    );
  calculating(command, judge);
}

function judge(read: FlagReader): Answer {
  const demand = demandOf(read);
  const scatter = scatterTold(read);
  const { result, judged } = measuredOf(read, demand, scatter);
  const verdict = judgeResult({
    result,
    demand,
    geometry: geometryTold(read) ?? null,
    reclampingUm: scatter?.lowUm ?? null,
  });
  const { governing } = verdict;
  const worstGmm = governing.residualGmm + governing.errorGmm;
  const highestRpm = governing.highestSpeedWithErrorRpm;
  return {
    sentence: sentenceOf(verdict, read),
    tables: [partsTable(verdict, read), budgetTable(judged, read)].filter(({ rows }) => rows.length > 0),
    remarks: [...massRemarks(demand.massKg, read.system), ...errorRemarks(judged)],
    explanations: [
      ...verdict.parts
        .filter(({ part }) => part === 'whole' || part === verdict.governedBy)
        .flatMap((one) => partExplained(one, verdict, judged)),
      gradeExplained(worstGmm, governing.demand.massKg, demand.serviceSpeedRpm),
      ...(highestRpm === null
        ? []
        : [highestSpeedExplained(worstGmm, governing.demand.massKg, demand.gradeMmS, highestRpm)]),
    ],
    cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH],
    values: {
      verdict: verdict.kind,
      governedBy: verdict.governedBy,
      parts: verdict.parts.map(({ part, verdict: { kind, demand: _, ...numbers } }) => ({
        part,
        verdict: kind,
        ...numbers,
      })),
      budgets: judged.map(({ part, budget }) => ({ part, ...budget })),
    },
  };
}

function errorRemarks(judged: readonly Judged[]): readonly string[] {
  if (judged.some(({ budget }) => budget.contributions.length === 0))
    return ['Nothing was told of the measuring error: it is counted as none.'];
  return judged.some(({ budget }) => budget.errorGmm === 0)
    ? ['The measuring error was told as 0, which no bench has: it is counted as none.']
    : [];
}

interface Judged {
  readonly part: JudgedPart;
  readonly budget: ErrorBudget;
}

/** The result to judge, with the error of the whole and, in two planes, of each plane with its share of the mass. */
function measuredOf(
  read: FlagReader,
  demand: BalanceDemand,
  scatter: InterfaceScatter | undefined,
): { readonly result: MeasuredResult; readonly judged: readonly Judged[] } {
  const residualGmm = read.value('residual', 'unbalance');
  const planeA = read.vector('plane-a');
  const planeB = read.vector('plane-b');
  if (residualGmm !== undefined && (planeA !== undefined || planeB !== undefined)) {
    throw new ValueFault('--residual and --plane-a: expected one or the other, came both');
  }
  if (residualGmm !== undefined) {
    const budget = budgetOf(read, { gmm: residualGmm, massKg: demand.massKg, planesRoot: 1 }, scatter);
    const plane = { unbalance: { gmm: residualGmm, angleDeg: 0 }, errorGmm: budget.errorGmm };
    return { result: { kind: 'one-plane', plane }, judged: [{ part: 'whole', budget }] };
  }
  if (planeA === undefined || planeB === undefined) {
    throw new ValueFault(
      '--residual: expected an amount such as 3gmm, or --plane-a and --plane-b such as 3gmm@120; it is missing',
    );
  }
  const { shareA, shareB } = allocateToPlanes(1, geometryTold(read) ?? null);
  const budgets = [
    { gmm: sumUnbalance([planeA, planeB]).gmm, massKg: demand.massKg, planesRoot: Math.SQRT2 },
    { gmm: planeA.gmm, massKg: demand.massKg * shareA, planesRoot: 1 },
    { gmm: planeB.gmm, massKg: demand.massKg * shareB, planesRoot: 1 },
  ].map((measured) => budgetOf(read, measured, scatter));
  const [whole = combineErrors([]), a = whole, b = whole] = budgets;
  return {
    result: {
      kind: 'two-planes',
      planeA: { unbalance: planeA, errorGmm: a.errorGmm },
      planeB: { unbalance: planeB, errorGmm: b.errorGmm },
      staticErrorGmm: whole.errorGmm,
    },
    judged: [
      { part: 'whole', budget: whole },
      { part: 'plane-a', budget: a },
      { part: 'plane-b', budget: b },
    ],
  };
}

function budgetOf(
  read: FlagReader,
  measured: { readonly gmm: number; readonly massKg: number; readonly planesRoot: number },
  scatter: InterfaceScatter | undefined,
): ErrorBudget {
  const smallestGmm = read.value('smallest-achievable', 'unbalance');
  const scalePercent = read.value('scale-error', 'percent');
  const angleDeg = read.value('angle-error', 'angle error');
  const correctedGmm = read.value('corrected', 'unbalance');
  if (angleDeg !== undefined && correctedGmm === undefined) {
    throw new ValueFault('--corrected: expected with --angle-error: how much was corrected, such as 40gmm');
  }
  return combineErrors([
    ...(smallestGmm === undefined
      ? []
      : [minimumAchievableError(smallestGmm * measured.planesRoot, '--smallest-achievable')]),
    ...(scalePercent === undefined ? [] : [scaleError(measured.gmm, scalePercent, '--scale-error')]),
    ...(angleDeg === undefined || correctedGmm === undefined
      ? []
      : [angleError(correctedGmm, angleDeg, '--angle-error')]),
    ...(scatter === undefined ? [] : [reclampingError(measured.massKg, scatter.highUm, scatter.source)]),
  ]);
}

/** With two planes the whole is explained, and the plane that governs where it is not the whole. */
function partExplained(
  { part, verdict: { demand, residualGmm, errorGmm, permissibleGmm } }: ResultVerdict['parts'][number],
  { governedBy, allocation, parts }: ResultVerdict,
  judged: readonly Judged[],
): readonly Explanation[] {
  const wholeKg = parts.find((one) => one.part === 'whole')?.verdict.demand.massKg ?? demand.massKg;
  const steps = [
    ...(part === 'whole' || allocation === null ? [] : [shareExplained(demand.massKg / wholeKg, wholeKg)]),
    ...permissibleExplained(demand),
    ...judged.filter((one) => one.part === part).map(({ budget }) => errorExplained(budget)),
    verdictExplained(residualGmm, errorGmm, permissibleGmm),
  ];
  if (allocation === null) return steps;
  const name = `${PART_WORDS[part]}${part === governedBy ? ', which governs' : ''}`;
  return steps.map((step) => ({ ...step, what: `${name}: ${step.what}` }));
}

const PART_WORDS = { whole: 'the whole', 'plane-a': 'plane A', 'plane-b': 'plane B' } as const;
const CAUSE_WORDS = {
  'measuring-error': 'the limit lies within the measuring error: measure again, or correct further',
  'error-too-large': 'the measuring error alone is more than is permitted: no reading of this bench could show it',
  'reclamping-scatter':
    'the grade cannot be shown at this speed: clamping anew moves the assembly by more than is permitted',
} as const;

function sentenceOf({ governing, governedBy }: ResultVerdict, read: FlagReader): string {
  const show = (gmm: number): string => showValue('unbalance', gmm, read.system);
  const figures = `${PART_WORDS[governedBy]} has ${show(governing.residualGmm)} ± ${show(governing.errorGmm)}, permitted are ${show(governing.permissibleGmm)}`;
  switch (governing.kind) {
    case 'within':
      return `Within: ${figures}.`;
    case 'exceeds':
      return `Exceeds: ${figures}; that is ${inFigures(governing.factor, 3)} times what is permitted.`;
    case 'undecided':
      return `Undecided: ${figures}; ${CAUSE_WORDS[governing.cause]}.`;
  }
}

function partsTable({ parts }: ResultVerdict, read: FlagReader): Answer['tables'][number] {
  const show = (quantity: QuantityName, value: number | null): string =>
    value === null ? 'no bound' : showValue(quantity, value, read.system);
  return {
    head: ['', 'verdict', 'residual', 'error', 'permitted', 'grade reached, error counted', 'grade met up to'],
    rows: parts.map(({ part, verdict }) => [
      PART_WORDS[part],
      verdict.kind,
      show('unbalance', verdict.residualGmm),
      show('unbalance', verdict.errorGmm),
      show('unbalance', verdict.permissibleGmm),
      `G${inFigures(verdict.gradeReachedWithErrorMmS)}`,
      show('speed', verdict.highestSpeedWithErrorRpm),
    ]),
  };
}

function budgetTable(judged: readonly Judged[], read: FlagReader): Answer['tables'][number] {
  const rows = judged.flatMap(({ part, budget }) =>
    budget.contributions.map(({ name, gmm, source }) => [
      ...(judged.length === 1 ? [] : [PART_WORDS[part]]),
      name,
      showValue('unbalance', gmm, read.system),
      source,
    ]),
  );
  return { title: 'Measuring error, made of', rows };
}
