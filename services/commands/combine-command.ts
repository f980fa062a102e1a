// counterpoise combine: an assembly's unbalance predicted from its parts, measured one by one.
import type { Command } from 'commander';
import {
  combineParts,
  permissibleResidualGmm,
  predictionAgainst,
  type CombinedPrediction,
  type MeasuredPart,
} from '../../shared/balance/index.ts';
import { ADVISORY, BALANCE_IS_NOT_STRENGTH, MEASURE_AGAIN } from '../../shared/cautions.ts';
import { interfaceScatterOf } from '../../shared/reference/index.ts';
import { permissibleExplained } from './balance-explanations.ts';
import { massRemarks, ownReference } from './balance-flags.ts';
import { calculating, many, once, type FlagReader } from './calculation-options.ts';
import type { Answer, Explanation } from './explain.ts';
import { inFigures, readValue, readVector, showValue, showVector, ValueFault } from './value-units.ts';

const FIELDS = ['name', 'mass', 'unbalance', 'error', 'joint'] as const;
type Field = (typeof FIELDS)[number];

export function addCombine(program: Command): void {
  const command = program
    .command('combine')
    .description('predict an assembly’s unbalance from its parts, in their order from the spindle outward')
    .requiredOption(
      '--part <fields>',
      'name=holder,mass=1.1kg,unbalance=2gmm@40,error=0.2gmm,joint=HSK-A63; without @ its orientation is not known; joint: an interface, or 3um; repeat it',
      many,
    )
    .option('--speed <value>', 'service speed, to tell it against what is permitted', once)
    .option('--grade <value>', 'balance quality grade, with --speed', once)
    .option('--own <file>', "the plant's own reference figures, JSON or YAML", once)
    .addHelpText(
      'after',
      '\nExample:\n  counterpoise combine --part name=holder,mass=1.1kg,unbalance=2gmm@40,joint=HSK-A63 --part name=cutter,mass=0.3kg,unbalance=1.5gmm,joint=3um --speed 12000 --grade G6.3\n',
    );
  calculating(command, combine);
}

function combine(read: FlagReader): Answer {
  const parts = read.texts('part').map((text) => partOf(text, read));
  const prediction = combineParts(parts);
  const demand = demandOf(read, prediction.massKg);
  const permissibleGmm = demand === undefined ? undefined : permissibleResidualGmm(demand);
  const against = permissibleGmm === undefined ? undefined : predictionAgainst(prediction, permissibleGmm);
  const show = (gmm: number): string => showValue('unbalance', gmm, read.system);
  return {
    ...(against === undefined ? {} : { sentence: AGAINST_WORDS[against] }),
    tables: [
      {
        rows: [
          ['mass', showValue('mass', prediction.massKg, read.system)],
          ['known orientations', showVector(prediction.known, read.system)],
          ['least … most', `${show(prediction.leastGmm)} … ${show(prediction.mostGmm)}`],
          ['to be expected', show(prediction.expectedGmm)],
          ...(permissibleGmm === undefined ? [] : [['permitted', show(permissibleGmm)]]),
        ],
      },
      {
        title: 'Joints, and what they carry',
        rows: prediction.joints.map(({ name, carriedKg, gmm }) => [
          name,
          showValue('mass', carriedKg, read.system),
          `up to ${show(gmm)}`,
        ]),
      },
    ].filter(({ rows }) => rows.length > 0),
    remarks: [
      ...massRemarks(prediction.massKg, read.system),
      ...(prediction.jointsNotKnown.length === 0
        ? []
        : [`Not counted, because not told: the joint of ${prediction.jointsNotKnown.join(', ')}.`]),
    ],
    explanations: [explained(parts, prediction), ...(demand === undefined ? [] : permissibleExplained(demand))],
    cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH, MEASURE_AGAIN],
    values: {
      parts,
      ...prediction,
      ...(permissibleGmm === undefined ? {} : { permissibleGmm }),
      ...(against === undefined ? {} : { against }),
    },
  };
}

const AGAINST_WORDS = {
  within: 'Predicted within what is permitted, however the parts are turned; measured it is only when it is measured.',
  exceeds: 'Predicted above what is permitted, however the parts are turned.',
  depends: 'It depends on how the parts are turned and clamped: measure the assembly.',
} as const;

function demandOf(read: FlagReader, massKg: number) {
  if (!read.has('speed') && !read.has('grade')) return undefined;
  return {
    massKg,
    serviceSpeedRpm: read.needed('speed', 'speed', 'the service speed, with --grade'),
    gradeMmS: read.needed('grade', 'grade', 'a grade, with --speed'),
  };
}

function partOf(text: string, read: FlagReader): MeasuredPart {
  const fields = fieldsOf(text);
  const needed = (field: Field): string => {
    const value = fields.get(field);
    if (value === undefined) throw new ValueFault(`--part: expected ${field}=… in ${JSON.stringify(text)}`);
    return value;
  };
  const name = needed('name');
  const flag = `--part ${name}`;
  const amount = needed('unbalance');
  const orientationKnown = amount.includes('@');
  const error = fields.get('error');
  const joint = fields.get('joint');
  return {
    name,
    massKg: readValue('mass', needed('mass'), flag, read.system),
    unbalance: orientationKnown
      ? readVector(amount, flag, read.system, read.tell)
      : { gmm: readValue('unbalance', amount, flag, read.system), angleDeg: 0 },
    orientationKnown,
    errorGmm: error === undefined ? 0 : readValue('unbalance', error, flag, read.system),
    jointUm: joint === undefined ? null : jointUmOf(joint, flag, read),
  };
}

function jointUmOf(joint: string, flag: string, read: FlagReader): number {
  const row = interfaceScatterOf(joint, ownReference(read));
  if (row !== null) return row.highUm;
  if (/^[\d.+-]/.test(joint)) return readValue('eccentricity', joint, flag, read.system);
  throw new ValueFault(
    `${flag}: joint: nothing is known of ${JSON.stringify(joint)}; expected HSK-A63, SK40 and the like, or an eccentricity such as 3um`,
  );
}

function fieldsOf(text: string): ReadonlyMap<Field, string> {
  const fields = new Map<Field, string>();
  for (const piece of text.split(',')) {
    const [key = '', ...rest] = piece.split('=');
    const field = FIELDS.find((one) => one === key.trim());
    if (field === undefined || rest.length === 0) {
      throw new ValueFault(
        `--part: expected ${FIELDS.map((one) => `${one}=…`).join(',')}, came ${JSON.stringify(piece)}`,
      );
    }
    if (fields.has(field)) throw new ValueFault(`--part: ${field} was given twice in ${JSON.stringify(text)}`);
    fields.set(field, rest.join('=').trim());
  }
  return fields;
}

function explained(parts: readonly MeasuredPart[], prediction: CombinedPrediction): Explanation {
  const amounts = [
    `${inFigures(prediction.known.gmm, 7)} (known orientations)`,
    ...parts
      .filter((part) => !part.orientationKnown)
      .map((part) => `${inFigures(part.unbalance.gmm, 7)} (${part.name})`),
    ...prediction.joints.map(
      ({ name, carriedKg, gmm }) =>
        `${inFigures(gmm, 7)} (joint of ${name}: ${inFigures(gmm / carriedKg, 7)} µm · ${inFigures(carriedKg, 7)} kg)`,
    ),
    ...parts
      .filter((part) => part.errorGmm > 0)
      .map((part) => `${inFigures(part.errorGmm, 7)} (error of ${part.name})`),
  ];
  return {
    what: 'range and expectation',
    formula:
      'most = Σ U; least = 2·max U − Σ U, of what cannot be turned away; expected = √(Σ U²); joints: U = e·m carried',
    numbers: `${amounts.join(', ')} g·mm`,
    result: `${inFigures(prediction.leastGmm, 7)} … ${inFigures(prediction.mostGmm, 7)} g·mm, expected ${inFigures(prediction.expectedGmm, 7)} g·mm`,
    source: 'mechanics; the expectation is that of random directions',
  };
}
