// counterpoise trim: what to add in the machine, in one or two planes, from trial runs with or without phase.
import { Option, type Command } from 'commander';
import {
  balanceByAmplitudes,
  predictedVibration,
  splitOverPlaces,
  sumUnbalance,
  trimBalance,
  type TrimAnswer,
  type TrimWarning,
  type TrimWay,
  type UnbalanceVector,
  type VibrationVector,
} from '../../shared/balance/index.ts';
import { ADVISORY, BALANCE_IS_NOT_STRENGTH, LOCKOUT, MEASURE_AGAIN, SECURE_WHAT_TURNS } from '../../shared/cautions.ts';
import { calculating, many, once, type FlagReader } from './calculation-options.ts';
import type { Answer, AnswerTable } from './explain.ts';
import { amplitudesExplained, trimExplained } from './trim-explanations.ts';
import { amplitudesAsked, trimAsked, trimWords, type AmplitudesAsked, type TrimAsked } from './trim-question.ts';
import { inFigures, showValue, showVector, ValueFault, type UnitSystem } from './value-units.ts';

const CAUTIONS = [ADVISORY, LOCKOUT, SECURE_WHAT_TURNS, BALANCE_IS_NOT_STRENGTH, MEASURE_AGAIN];

export function addTrim(program: Command): void {
  const command = program
    .command('trim')
    .description('balance in the machine by influence coefficients: one or two planes, from trial runs')
    .argument('[file]', 'the runs, JSON or YAML, instead of flags')
    .addOption(
      new Option(
        '--phase <sense>',
        'whether phase grows (lead) or shrinks (lag) when a mass is moved on by its angle',
      ).choices(['lead', 'lag']),
    )
    .option('--initial <reading>', 'as it runs: 4.8mm/s@17; repeat it per sensor; without phase: 4.8mm/s', many)
    .option('--trial-1 <mass>', 'trial mass in plane 1: 100gmm@0, or with --radius 1.6g@0', once)
    .option('--after-1 <reading>', 'what was read with it; repeat it per sensor', many)
    .option('--trial-2 <mass>', 'trial mass in plane 2', once)
    .option('--after-2 <reading>', 'what was read with it; repeat it per sensor', many)
    .option('--left-on', 'trial masses stay on')
    .option('--opposite <amplitude>', 'without phase: read with the trial mass of plane 1 turned by 180°', once)
    .option('--radius <value>', 'at which masses sit: 65mm; masses are then in g', once)
    .option('--step-amount <value>', 'finest step that can be set: 5gmm, or 0.1g with --radius', once)
    .option('--step-angle <value>', 'finest angle that can be set, in degrees; not needed with --places', once)
    .option('--places <angles>', 'only at these angles, with commas: 0,30,60', once)
    .addHelpText(
      'after',
      '\nExample:\n  counterpoise trim --phase lag --initial 4.81mm/s@16.8 --trial-1 103.25gmm@0 --after-1 4.7628mm/s@299.9\n',
    );
  calculating(command, trim);
}

function trim(read: FlagReader, path?: string): Answer {
  const words = trimWords(read, path);
  if (words.opposite !== undefined) return withoutPhase(amplitudesAsked(words, words.opposite, read), read.system);
  return withPhase(trimAsked(words, read), read.system);
}

/** An unbalance, and the mass that makes it where the radius is known. */
function amountWords(vector: UnbalanceVector, radiusMm: number | undefined, system: UnitSystem): string {
  if (radiusMm === undefined) return showVector(vector, system);
  return `${showValue('small mass', vector.gmm / radiusMm, system)} at ${showValue('angle', vector.angleDeg)} (${showValue('unbalance', vector.gmm, system)})`;
}

function withoutPhase(asked: AmplitudesAsked, system: UnitSystem): Answer {
  const answer = balanceByAmplitudes(asked);
  if (answer.kind === 'contradictory') {
    throw new ValueFault(
      '--opposite: the three amplitudes fit no unbalance: were they read at one speed, with one sensor?',
    );
  }
  const places = answer.correctionDeg.map((angleDeg) =>
    amountWords({ gmm: answer.correctionGmm, angleDeg }, asked.radiusMm, system),
  );
  return {
    sentence: 'One of two places takes the vibration away; only a run can tell which.',
    tables: [
      {
        rows: [
          ['the trial mass does', withUnit(answer.effect, asked.unit)],
          ['either', places[0] ?? ''],
          ['or', places[1] ?? ''],
        ],
      },
    ],
    remarks: ['Take the trial mass off first.'],
    explanations: [amplitudesExplained(asked, answer)],
    cautions: CAUTIONS,
    values: { ...answer },
  };
}

const WARNINGS: Record<TrimWarning, string> = {
  'weak-trial':
    'A trial mass changed amplitude by less than 30 % and phase by less than 30° at every sensor: what is learned of it is uncertain. Use a larger one, or another place.',
  'ill-conditioned':
    'The sensors see both planes nearly alike: errors of the readings come out more than tenfold in the masses. Two masses are not given; their sum is, and what one plane alone can do.',
  'planes-alike':
    'The sensors see both planes as one and the same: no masses for two planes can be given. What one plane alone can do is.',
};

function withPhase(asked: TrimAsked, system: UnitSystem): Answer {
  const { runs, steps, radiusMm } = asked;
  const answer = trimBalance(runs, steps);
  const stays = runs.trials.some(({ leftOn }) => leftOn);
  const ways = answer.inAllPlanes === null ? answer.inOnePlane : [answer.inAllPlanes];
  const split = asked.placesDeg === undefined ? [] : ways.map((way) => placedWay(asked, way, asked.placesDeg ?? []));
  return {
    tables: [
      ...(split.length > 0 ? split : ways).map((way) => wayTable(way, asked, system)),
      {
        title: 'How well it is known',
        rows: [
          ...(answer.sum === null || answer.coefficients.columns.length === 1
            ? []
            : [['sum over the planes', amountWords(answer.sum, radiusMm, system)]]),
          ['condition number', inFigures(answer.coefficients.conditioning.condition)],
          ...(answer.coefficients.conditioning.coherence === null
            ? []
            : [['coherence of the planes', inFigures(answer.coefficients.conditioning.coherence)]]),
        ],
      },
    ],
    remarks: [
      ...answer.warnings.map((warning) => WARNINGS[warning]),
      stays
        ? 'Trial masses left on stay where they are: what is given is added to them.'
        : 'Take the trial masses off first.',
    ],
    explanations: trimExplained(runs, answer),
    cautions: CAUTIONS,
    values: valuesOf(answer, split),
  };
}

/** A way with what goes where: as it can be set, or shared between places that exist. */
type PlacedWay = TrimWay & { readonly placed?: readonly (readonly UnbalanceVector[])[] };

function placedWay({ runs, amountStepGmm }: TrimAsked, way: TrimWay, placesDeg: readonly number[]): PlacedWay {
  const placed = way.settings.map(({ plane, exact }) => {
    const shares = splitOverPlaces(exact, placesDeg);
    if (shares === null) {
      throw new ValueFault(
        `--places: expected two less than 180° apart on either side of ${inFigures(exact.angleDeg)}° in plane ${plane + 1}`,
      );
    }
    return shares.map(({ gmm, angleDeg }) => ({
      gmm: amountStepGmm === null ? gmm : Math.round(gmm / amountStepGmm) * amountStepGmm,
      angleDeg,
    }));
  });
  const added: [UnbalanceVector, UnbalanceVector] = [sumUnbalance([]), sumUnbalance([])];
  for (const [index, { plane }] of way.settings.entries()) added[plane] = sumUnbalance(placed[index] ?? []);
  return { ...way, placed, predicted: predictedVibration(runs, added) };
}

function wayTable(way: PlacedWay, { unit, radiusMm, runs }: TrimAsked, system: UnitSystem): AnswerTable {
  const rows = way.settings.flatMap(({ plane, exact, set }, index) => {
    const name = `plane ${plane + 1}`;
    const goes = way.placed?.[index] ?? [set];
    return [
      [name, 'exact', amountWords(exact, radiusMm, system)],
      ...goes.map((one) => [name, 'add', amountWords(one, radiusMm, system)]),
    ];
  });
  const sensors = way.predicted.map(({ amplitude }, sensor) => [
    `sensor ${sensor + 1}`,
    'predicted',
    `${withUnit(withoutDust(amplitude, runs.initial[sensor]?.amplitude ?? 0), unit)}, was ${withUnit(runs.initial[sensor]?.amplitude ?? 0, unit)}`,
  ]);
  const planes = way.settings.map(({ plane }) => plane + 1).join(' and ');
  return { title: `Add in plane ${planes}`, rows: [...rows, ...sensors] };
}

/** What is left of exact corrections is rounding: nothing that a sensor reads. */
function withoutDust(amplitude: number, before: number): number {
  return amplitude < before * 1e-9 ? 0 : amplitude;
}

function withUnit(amplitude: number, unit: string): string {
  return `${inFigures(amplitude)} ${unit}`.trim();
}

function valuesOf(answer: TrimAnswer, split: readonly PlacedWay[]): Readonly<Record<string, unknown>> {
  const predicted = (way: TrimWay): readonly VibrationVector[] => way.predicted;
  return {
    conditioning: answer.coefficients.conditioning,
    weakTrials: answer.coefficients.weakTrials,
    warnings: answer.warnings,
    sum: answer.sum,
    inAllPlanes: answer.inAllPlanes,
    inOnePlane: answer.inOnePlane,
    ...(split.length === 0
      ? {}
      : { atPlaces: split.map((way) => ({ placed: way.placed, predicted: predicted(way) })) }),
  };
}
