// counterpoise correct: what to set, drill, cut, screw in or add, where, and what is left afterwards.
import { Argument, type Command } from 'commander';
import type { Advice, AdvicePlan, Predicted } from '../../shared/advice.ts';
import {
  adviseCorrection,
  hasScrewsToProve,
  proveScrews,
  type CorrectionQuestion,
} from '../../shared/correction/index.ts';
import { withDemand, withPlanes } from './balance-flags.ts';
import { inBothUnits } from './both-units.ts';
import { calculating, once, type FlagReader } from './calculation-options.ts';
import { planExplained } from './correct-explanations.ts';
import { questionOf } from './correct-file.ts';
import type { Answer, AnswerTable } from './explain.ts';
import { Progress } from './progress.ts';
import { showValue } from './value-units.ts';

const EXAMPLE = `
Example, with places.yaml:
  - kind: radial-holes
    featureId: rim
    radiusMm: 25
    material: case-hardening steel   # or densityGCm3: 7.85
    depthMaxMm: 8
    diametersMm: [4, 6]
    keepClear: [{fromDeg: 350, toDeg: 10, why: drive slot}]
    source: the holder maker's sheet and its date
  counterpoise correct places.yaml --unbalance 12gmm@133 --error 0.3gmm --mass 1.2kg --speed 18000 --grade G2.5
`;

export function addCorrect(program: Command): void {
  const command = withPlanes(withDemand(program.command('correct')))
    .description('ways to correct a measured unbalance at the places that the holder’s maker permits, best first')
    .addArgument(new Argument('<file>', 'YAML or JSON: the list of places, or {features, planes, massKg, …}'))
    .option('--unbalance <vector>', 'as measured in one plane: 12gmm@133', once)
    .option('--error <value>', 'measuring error ΔU of each plane: 0.3gmm', once)
    .option('--permissible <value>', 'what may be left, instead of mass, speed and grade', once)
    .option('--prove', 'go on where a search for set screws ended with a first answer, until it is proven')
    .addHelpText('after', EXAMPLE);
  calculating(command, (read, path) => correct(read, path ?? ''));
}

function correct(read: FlagReader, path: string): Answer {
  const { question, remarks } = questionOf(read, path);
  const advice = read.has('prove') ? proven(question) : adviseCorrection(question);
  const [best] = advice.plans;
  return {
    sentence: inBothUnits(advice.sentence, read.system),
    tables: [...planTables(advice, read), ...refusalTables(advice, read)],
    remarks: [...remarks, ...limitRemarks(advice), ...proofRemarks(question, advice, read)],
    explanations: best === undefined ? [] : planExplained(question, best),
    cautions: advice.cautions,
    values: { ...advice },
  };
}

const limitRemarks = ({ limitsOf }: Advice): readonly string[] =>
  limitsOf.map(({ featureId, source }) =>
    source === undefined ? `limits of ${featureId}: no source named` : `limits of ${featureId}: ${source}`,
  );

/** Where more could be said by searching on. */
function proofRemarks(question: CorrectionQuestion, { needed }: Advice, read: FlagReader): readonly string[] {
  if (!needed || read.has('prove') || !hasScrewsToProve(question)) return [];
  return ['Not all choices of screws were looked at: --prove goes on until it is proven what they can do.'];
}

function proven(question: CorrectionQuestion): Advice {
  const search = proveScrews(question);
  let progress: Progress | undefined;
  for (;;) {
    const step = search.next();
    if (step.done === true) {
      progress?.done();
      return step.value;
    }
    progress ??= new Progress('searching all choices of screws');
    progress.at(step.value.share);
  }
}

function planTables({ plans }: Advice, read: FlagReader): readonly AnswerTable[] {
  if (plans.length === 0) return [];
  const overview: AnswerTable = {
    head: ['', 'plan', 'leaves', 'error', 'permitted', 'predicted', 'removed', 'steps'],
    rows: plans.flatMap((plan, i) => overviewRows(plan, i, read)),
  };
  return [overview, ...plans.map((plan, i) => stepsTable(plan, i, read))];
}

/** With two planes the whole has a row, and each plane one below it. */
function overviewRows(plan: AdvicePlan, index: number, read: FlagReader): string[][] {
  const { title, whole, predicted, removedG, steps } = plan;
  const removed = removedG === 0 ? 'nothing' : showValue('small mass', removedG, read.system);
  const first = [
    `${index + 1}`,
    inBothUnits(title, read.system),
    ...figures(whole, read),
    removed,
    String(steps.length),
  ];
  if (predicted.length === 1) return [first];
  return [first, ...predicted.map((left) => ['', `  in plane ${left.plane}`, ...figures(left, read), '', ''])];
}

function figures({ residualGmm, errorGmm, permissibleGmm, verdict }: Predicted, read: FlagReader): string[] {
  const shown = (gmm: number): string => showValue('unbalance', gmm, read.system);
  return [
    shown(residualGmm),
    `± ${shown(errorGmm)}`,
    permissibleGmm === undefined ? 'nothing demanded' : shown(permissibleGmm),
    verdict === 'cannot-judge' ? 'cannot be judged' : verdict,
  ];
}

function stepsTable(
  { title, steps, because, notes, leastPossibleGmm }: AdvicePlan,
  index: number,
  read: FlagReader,
): AnswerTable {
  const words = (metric: string): string => inBothUnits(metric, read.system);
  const least =
    leastPossibleGmm === undefined
      ? []
      : [['', `no settings of it leave less than ${showValue('unbalance', leastPossibleGmm, read.system)}`]];
  return {
    title: `${index + 1}  ${words(title)}`,
    rows: [
      ...steps.map((step, i) => [`${i + 1}.`, words(step.words)]),
      ['', words(because)],
      ...notes.map((note) => ['', words(note)]),
      ...least,
    ],
  };
}

function refusalTables({ refusals }: Advice, read: FlagReader): readonly AnswerTable[] {
  const words = (metric: string): string => inBothUnits(metric, read.system);
  if (refusals.length === 0) return [];
  return [
    {
      title: 'Not enough, or not possible',
      rows: refusals.flatMap(({ method, featureIds, why, wouldNeed }) => [
        [`${[method, ...featureIds].join(' ')}:`, words(why)],
        ['', `it would need ${words(wouldNeed)}`],
      ]),
    },
  ];
}
