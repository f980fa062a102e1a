// counterpoise reference: the reference figures in force, each with its source, the plant's own first.
import type { Command } from 'commander';
import { ADVISORY } from '../../shared/cautions.ts';
import { referenceTables } from '../../shared/reference/index.ts';
import { ownReference } from './balance-flags.ts';
import { calculating, once, type FlagReader } from './calculation-options.ts';
import type { Answer } from './explain.ts';
import { inFigures, showRange, showValue } from './value-units.ts';

export function addReference(program: Command): void {
  const command = program
    .command('reference')
    .description('print densities, reclamping scatter of interfaces and grade guidance, each with its source')
    .option('--own <file>', "the plant's own figures, JSON or YAML; they come before the defaults", once)
    .addHelpText('after', '\nExample:\n  counterpoise reference --own our-figures.yaml\n');
  calculating(command, reference);
}

function reference(read: FlagReader): Answer {
  const { interfaces, densities, grades } = referenceTables(ownReference(read));
  const from = (source: string, own: boolean): string => (own ? `own: ${source}` : source);
  return {
    tables: [
      {
        title: 'Interfaces: how far clamping anew moves an assembly off the axis',
        rows: interfaces.map(({ interfaceKind, lowUm, highUm, source, own }) => [
          interfaceKind,
          showRange('eccentricity', lowUm, highUm, read.system),
          from(source, own),
        ]),
      },
      {
        title: 'Densities',
        rows: densities.map(({ material, densityGCm3, lowGCm3, highGCm3, source, own }) => [
          material,
          showValue('density', densityGCm3, read.system),
          lowGCm3 === undefined || highGCm3 === undefined
            ? ''
            : `(${showRange('density', lowGCm3, highGCm3, read.system)})`,
          from(source, own),
        ]),
      },
      {
        title: 'Grades that are usual',
        rows: grades.map(({ use, gradeMmS, source, own }) => [use, `G${inFigures(gradeMmS)}`, from(source, own)]),
      },
    ],
    remarks: ['Guidance where nothing better is known: what the maker or the drawing demands comes first.'],
    explanations: [],
    cautions: [ADVISORY],
    values: { interfaces, densities, grades },
  };
}
