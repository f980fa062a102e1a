// counterpoise bearing-load: what unbalance a share of the spindle bearing's dynamic rating permits, beside the grade.
import type { Command } from 'commander';
import {
  angularSpeedRadS,
  bearingSharePercent,
  gradeReachedMmS,
  permissibleByBearingLoadGmm,
  permissibleForceN,
  type BearingLoadCriterion,
} from '../../shared/balance/index.ts';
import { ADVISORY, BALANCE_IS_NOT_STRENGTH } from '../../shared/cautions.ts';
import { gradeExplained, omegaExplained } from './balance-explanations.ts';
import { massRemarks } from './balance-flags.ts';
import { calculating, once, type FlagReader } from './calculation-options.ts';
import type { Answer, Explanation } from './explain.ts';
import { inFigures, showValue, ValueFault, type QuantityName, type UnitSystem } from './value-units.ts';

/** From memory, of ISO 15641 and ISO 16084. */
const GRADE_OF_CONCERN = 40;

export function addBearingLoad(program: Command): void {
  const command = program
    .command('bearing-load')
    .description('the unbalance whose force stays within a share of the spindle bearing’s dynamic rating')
    .option('--rating <value>', 'dynamic load rating of the bearing: 20kN', once)
    .option('--rating-source <words>', 'who says so: the bearing maker’s sheet', once)
    .option('--share <value>', 'of the rating: 1%', once)
    .option('--share-source <words>', 'who says so', once)
    .option('--speed <value>', 'service speed, in rpm', once)
    .option('--mass <value>', 'of the assembly, to tell as which grade it comes out', once)
    .option('--residual <value>', 'a residual, to tell what share it takes up', once)
    .addHelpText(
      'after',
      '\nExample:\n  counterpoise bearing-load --rating 20kN --rating-source "bearing sheet" --share 1% --share-source "spindle maker" --speed 15000\n',
    );
  calculating(command, bearingLoad);
}

function bearingLoad(read: FlagReader): Answer {
  const criterion: BearingLoadCriterion = {
    dynamicRatingN: read.needed('rating', 'force', 'a force such as 20kN: it is the user’s, there is no default'),
    ratingSource: sourceOf(read, 'rating-source'),
    sharePercent: read.needed('share', 'percent', 'a share such as 1%: it is the user’s, there is no default'),
    shareSource: sourceOf(read, 'share-source'),
  };
  const speedRpm = read.needed('speed', 'speed', 'the service speed such as 18000, in rpm');
  const massKg = read.value('mass', 'mass');
  const residualGmm = read.value('residual', 'unbalance');
  const show = (quantity: QuantityName, value: number): string => showValue(quantity, value, read.system);
  const forceN = permissibleForceN(criterion);
  const permissibleGmm = permissibleByBearingLoadGmm(criterion, speedRpm);
  const gradeMmS =
    massKg === undefined ? undefined : gradeReachedMmS({ residualGmm: permissibleGmm, massKg, speedRpm });
  const takenPercent =
    residualGmm === undefined
      ? undefined
      : bearingSharePercent({ unbalanceGmm: residualGmm, speedRpm, dynamicRatingN: criterion.dynamicRatingN });
  return {
    tables: [
      {
        rows: [
          ['permissible force', show('force', forceN)],
          ['permissible residual', show('unbalance', permissibleGmm)],
          ...(gradeMmS === undefined ? [] : [['as a grade', `G${inFigures(gradeMmS)}`]]),
          ...(takenPercent === undefined
            ? []
            : [['the residual takes up', `${inFigures(takenPercent)} % of the rating`]]),
          ['rating', `${show('force', criterion.dynamicRatingN)} (${criterion.ratingSource})`],
          ['share', `${inFigures(criterion.sharePercent)} % (${criterion.shareSource})`],
        ],
      },
    ],
    remarks: remarksOf(massKg, gradeMmS, read.system),
    explanations: [
      omegaExplained(speedRpm),
      explained(criterion, speedRpm, permissibleGmm),
      ...(massKg === undefined ? [] : [gradeExplained(permissibleGmm, massKg, speedRpm)]),
    ],
    cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH],
    values: {
      criterion,
      speedRpm,
      permissibleForceN: forceN,
      permissibleGmm,
      ...(gradeMmS === undefined ? {} : { gradeMmS }),
      ...(takenPercent === undefined ? {} : { takenPercent }),
    },
  };
}

function explained(criterion: BearingLoadCriterion, speedRpm: number, permissibleGmm: number): Explanation {
  return {
    what: 'permissible residual by bearing load',
    formula: 'U = share·C/ω²',
    numbers: `${inFigures(criterion.sharePercent, 7)} % · ${inFigures(criterion.dynamicRatingN, 7)} N / (${inFigures(angularSpeedRadS(speedRpm), 7)} rad/s)², in g·mm`,
    result: `${inFigures(permissibleGmm, 7)} g·mm`,
    source: `mechanics; share: ${criterion.shareSource}; rating: ${criterion.ratingSource}; that the load on the bearing is judged: scope of ISO 16084`,
  };
}

function remarksOf(massKg: number | undefined, gradeMmS: number | undefined, system: UnitSystem): readonly string[] {
  return [
    ...(massKg === undefined ? [] : massRemarks(massKg, system)),
    'Where a grade is demanded as well, both hold: the bearing’s load says nothing of strength, clamping or cutting.',
    ...(gradeMmS !== undefined && gradeMmS > GRADE_OF_CONCERN
      ? [
          `It comes out coarser than G${GRADE_OF_CONCERN}, which is often named as the bound for tools at high speed (ISO 15641, from memory).`,
        ]
      : []),
  ];
}

function sourceOf(read: FlagReader, name: string): string {
  const words = read.text(name)?.trim();
  if (words !== undefined && words !== '') return words;
  throw new ValueFault(`--${name}: expected who says so, in words; it is missing`);
}
