// counterpoise permissible: what an assembly may keep at its service speed for its grade, and who could show it.
import type { Command } from 'commander';
import {
  allocateToPlanes,
  centrifugalForceN,
  permissibleResidualGmm,
  permissibleSpecificUm,
  showabilityOf,
  type BalanceDemand,
  type PlaneAllocation,
  type ShareBasis,
  type Showability,
} from '../../shared/balance/index.ts';
import { ADVISORY, BALANCE_IS_NOT_STRENGTH } from '../../shared/cautions.ts';
import { forceExplained, permissibleExplained } from './balance-explanations.ts';
import { demandOf, geometryTold, massRemarks, scatterTold, withDemand, withInterface } from './balance-flags.ts';
import { calculating, once, type FlagReader } from './calculation-options.ts';
import type { Answer, Explanation } from './explain.ts';
import { inFigures, showValue, type QuantityName } from './value-units.ts';

export function addPermissible(program: Command): void {
  const command = withInterface(withDemand(program.command('permissible')))
    .description('the residual unbalance that a mass may keep at a speed for a grade')
    .option('--a-at <value>', 'position of plane A along the axis, to share it between two planes', once)
    .option('--b-at <value>', 'position of plane B', once)
    .option('--centre-of-mass <value>', 'its position along the axis', once)
    .addHelpText('after', '\nExample:\n  counterpoise permissible --mass 1.2kg --speed 18000 --grade G2.5 --explain\n');
  calculating(command, permissible);
}

function permissible(read: FlagReader): Answer {
  const demand = demandOf(read);
  const permissibleGmm = permissibleResidualGmm(demand);
  const specificUm = permissibleSpecificUm(demand.gradeMmS, demand.serviceSpeedRpm);
  const forceN = centrifugalForceN(permissibleGmm, demand.serviceSpeedRpm);
  const geometry = geometryTold(read);
  const shares = geometry === undefined ? undefined : allocateToPlanes(permissibleGmm, geometry);
  const shown = shownThrough(read, demand);
  const show = (quantity: QuantityName, value: number): string => showValue(quantity, value, read.system);
  return {
    tables: [
      {
        rows: [
          ['permissible residual', show('unbalance', permissibleGmm)],
          ['permissible specific', show('eccentricity', specificUm)],
          ['its force at this speed', show('force', forceN)],
          ...(shares === undefined ? [] : shareRows(shares, read)),
          ...(shown === undefined ? [] : [shown.row]),
        ],
      },
    ],
    remarks: [...massRemarks(demand.massKg, read.system), ...(shown?.remarks ?? [])],
    explanations: [
      ...permissibleExplained(demand),
      forceExplained(permissibleGmm, demand.serviceSpeedRpm),
      ...(shown === undefined ? [] : [shown.explanation]),
    ],
    cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH],
    values: {
      demand,
      permissibleGmm,
      permissibleSpecificUm: specificUm,
      forceN,
      ...(shares === undefined ? {} : { shares }),
      ...(shown === undefined ? {} : { showability: shown.showability }),
    },
  };
}

const BASIS_WORDS: Record<ShareBasis, string> = {
  'by-distance': 'by its distance to the centre of mass',
  bounded: 'by its distance to the centre of mass, bounded to 30 … 70 %',
  'half-each': 'half each',
};

function shareRows(shares: PlaneAllocation, read: FlagReader): string[][] {
  const row = (plane: string, gmm: number, share: number): string[] => [
    `of it in plane ${plane}`,
    `${showValue('unbalance', gmm, read.system)} (${inFigures(100 * share)} %, ${BASIS_WORDS[shares.basis]})`,
  ];
  return [row('A', shares.planeAGmm, shares.shareA), row('B', shares.planeBGmm, shares.shareB)];
}

interface Shown {
  readonly showability: Showability;
  readonly row: string[];
  readonly remarks: readonly string[];
  readonly explanation: Explanation;
}

/** Whether the grade can be shown through the interface; undefined where no interface is told. */
function shownThrough(read: FlagReader, { gradeMmS, serviceSpeedRpm }: BalanceDemand): Shown | undefined {
  const scatter = scatterTold(read);
  if (scatter === undefined) return undefined;
  const showability = showabilityOf({ gradeMmS, speedRpm: serviceSpeedRpm, scatterUm: scatter.lowUm });
  const { scatterUm, scatterGradeMmS, highestSpeedRpm, permissibleSpecificUm: specificUm } = showability;
  return {
    showability,
    row: [
      'reclamping scatter',
      `${showValue('eccentricity', scatterUm, read.system)}, as much as G${inFigures(scatterGradeMmS)} at this speed`,
    ],
    remarks:
      showability.kind === 'can-be-shown'
        ? []
        : [
            'The grade cannot be shown at this speed: clamping anew moves the assembly by more than is permitted.' +
              ` Through this interface it can be shown up to ${showValue('speed', highestSpeedRpm ?? 0)}, whatever the mass.`,
          ],
    explanation: scatterExplained(scatter.source, scatterUm, specificUm),
  };
}

function scatterExplained(source: string, scatterUm: number, specificUm: number): Explanation {
  return {
    what: 'can be shown',
    formula: 'e_per ≥ reclamping scatter',
    numbers: `${inFigures(specificUm)} µm against ${inFigures(scatterUm)} µm`,
    result: specificUm >= scatterUm ? 'it can' : 'it cannot',
    source: `comparison of the two; scatter: ${source}`,
  };
}
