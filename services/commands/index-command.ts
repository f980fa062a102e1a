// counterpoise index: readings of an assembly turned against the bench spindle, split into its own part and the bench's.
import { Option, type Command } from 'commander';
import {
  resolveIndexing,
  turnsTellApart,
  type IndexedReading,
  type IndexingFrame,
} from '../../shared/balance/index.ts';
import { ADVISORY } from '../../shared/cautions.ts';
import { massRemarks } from './balance-flags.ts';
import { calculating, many, once, type FlagReader } from './calculation-options.ts';
import type { Answer } from './explain.ts';
import { inFigures, readValue, readVector, showValue, showVector, ValueFault } from './value-units.ts';

export function addIndex(program: Command): void {
  const command = program
    .command('index')
    .description('split index readings into the assembly’s own unbalance and the part of bench spindle and adapter')
    .requiredOption(
      '--reading <turn:vector>',
      'turned by so many degrees it read so much: 180:7.97gmm@206; repeat it',
      many,
    )
    .addOption(
      new Option('--frame <frame>', 'whose mark the angles count from: machine stands still with the bench spindle')
        .choices(['machine', 'rotor'])
        .default('machine'),
    )
    .option('--mass <value>', 'of the assembly, to tell the bench’s part as an eccentricity', once)
    .addHelpText('after', '\nExample:\n  counterpoise index --reading 0:2.11gmm@44.3 --reading 180:7.97gmm@206.3\n');
  calculating(command, index);
}

function index(read: FlagReader): Answer {
  const frame: IndexingFrame = read.text('frame') === 'rotor' ? 'rotor' : 'machine';
  const readings = read.texts('reading').map((text) => readingOf(text, read));
  if (!turnsTellApart(readings.map(({ turnDeg }) => turnDeg))) {
    throw new ValueFault('--reading: expected two or more, turned well apart, such as by 0 and 180 degrees');
  }
  const split = resolveIndexing(frame, readings);
  const massKg = read.value('mass', 'mass');
  const eccentricityUm = massKg === undefined ? undefined : split.bench.gmm / massKg;
  const { scatterGmm, scatterMaxGmm } = split;
  const amount = (gmm: number): string => showValue('unbalance', gmm, read.system);
  return {
    tables: [
      {
        rows: [
          ['assembly', showVector(split.assembly, read.system), 'from the assembly’s mark'],
          ['bench and adapter', showVector(split.bench, read.system), 'from the bench spindle’s mark'],
          ...(eccentricityUm === undefined
            ? []
            : [['as an eccentricity', showValue('eccentricity', eccentricityUm, read.system)]]),
          ...(scatterGmm === null || scatterMaxGmm === null
            ? []
            : [
                ['standard deviation of a reading', amount(scatterGmm)],
                ['reading farthest from the fit', amount(scatterMaxGmm), 'off it'],
              ]),
        ],
      },
    ],
    remarks: [
      ...(massKg === undefined ? [] : massRemarks(massKg, read.system)),
      ...(scatterGmm === null ? ['Two readings always fit: they say nothing of how well the bench repeats.'] : []),
    ],
    explanations: [explained(frame, readings, split.assembly, split.bench)],
    cautions: [ADVISORY],
    values: {
      frame,
      readings,
      ...split,
      ...(eccentricityUm === undefined ? {} : { benchEccentricityUm: eccentricityUm }),
    },
  };
}

function readingOf(text: string, read: FlagReader): IndexedReading {
  const at = text.indexOf(':');
  if (at < 1)
    throw new ValueFault(
      `--reading: expected a turn and a vector, such as 180:7.97gmm@206, came ${JSON.stringify(text)}`,
    );
  return {
    turnDeg: readValue('angle', text.slice(0, at), '--reading', read.system, read.tell),
    unbalance: readVector(text.slice(at + 1), '--reading', read.system, read.tell),
  };
}

function explained(
  frame: IndexingFrame,
  readings: readonly IndexedReading[],
  assembly: IndexedReading['unbalance'],
  bench: IndexedReading['unbalance'],
): Answer['explanations'][number] {
  const words = (vector: IndexedReading['unbalance']): string =>
    `${inFigures(vector.gmm, 7)} g·mm ∠ ${inFigures(vector.angleDeg, 7)}°`;
  const numbers = readings
    .map(({ turnDeg, unbalance }) => `V(${inFigures(turnDeg)}°) = ${words(unbalance)}`)
    .join('; ');
  const [turning, still] = frame === 'machine' ? ['assembly', 'bench'] : ['bench, turning back', 'assembly'];
  return {
    what: 'split by indexing',
    formula: `V(turn) = ${still} + ${turning}·e^(i·turn), least squares; for 0° and 180° half the sum and half the difference`,
    numbers,
    result: `assembly ${words(assembly)}; bench ${words(bench)}`,
    source: 'ISO 21940-14 for the method; the split is plain algebra',
  };
}
