// counterpoise planes: what is measured in one or two planes as static and couple, and carried by two other planes.
import type { Command } from 'commander';
import {
  moveToPlanes,
  resolveStaticAndCouple,
  type MovedUnbalance,
  type PlacedUnbalance,
  type StaticAndCouple,
} from '../../shared/balance/index.ts';
import { ADVISORY } from '../../shared/cautions.ts';
import { COINCIDE_WORDS, SAME_POSITION_MM } from '../../shared/correction/index.ts';
import { withPlanes } from './balance-flags.ts';
import { calculating, once, type FlagReader } from './calculation-options.ts';
import type { Answer, AnswerTable, Explanation } from './explain.ts';
import { inFigures, showValue, showVector, ValueFault, type UnitSystem } from './value-units.ts';

export function addPlanes(program: Command): void {
  const command = withPlanes(program.command('planes'))
    .description('static and couple unbalance of a result, and the same result in two other planes')
    .option('--error <value>', 'measuring error of each plane: 0.3gmm', once)
    .option('--to-a-at <value>', 'position of the plane to move to instead of A', once)
    .option('--to-b-at <value>', 'position of the plane to move to instead of B', once)
    .addHelpText(
      'after',
      '\nExample:\n  counterpoise planes --plane-a 3gmm@20 --a-at 10mm --plane-b 5gmm@140 --b-at 90mm --centre-of-mass 40mm --to-a-at 0mm --to-b-at 120mm\n',
    );
  calculating(command, planes);
}

function planes(read: FlagReader): Answer {
  const placed = placedOf(read);
  const resolved = resolvedOf(read, placed);
  const moved = movedOf(read, placed);
  if (resolved === undefined && moved === undefined) {
    throw new ValueFault(
      '--centre-of-mass: expected with two planes, for static and couple; or --to-a-at and --to-b-at, to move the result',
    );
  }
  const tables: AnswerTable[] = [];
  const explanations: Explanation[] = [];
  if (resolved !== undefined) {
    tables.push(resolvedTable(resolved, read));
    explanations.push(resolvedExplained(resolved, placed, read.value('centre-of-mass', 'length') ?? 0));
  }
  if (moved !== undefined) {
    tables.push(movedTable(moved, read));
    explanations.push(movedExplained(moved, placed));
  }
  return {
    tables,
    remarks: [
      ...coincideRemarks(
        '',
        placed.map(({ positionMm }) => positionMm),
        read.system,
      ),
      ...(moved === undefined ? [] : coincideRemarks('to move to: ', [moved.planeAMm, moved.planeBMm], read.system)),
    ],
    explanations,
    cautions: [ADVISORY],
    values: {
      measured: placed,
      ...(resolved === undefined ? {} : { resolved }),
      ...(moved === undefined ? {} : { moved }),
    },
  };
}

function placedOf(read: FlagReader): readonly PlacedUnbalance[] {
  const errorGmm = read.value('error', 'unbalance') ?? 0;
  const placed = (['a', 'b'] as const).flatMap((plane) => {
    const unbalance = read.vector(`plane-${plane}`);
    if (unbalance === undefined) return [];
    return [
      {
        unbalance,
        positionMm: read.needed(`${plane}-at`, 'length', `the position of plane ${plane.toUpperCase()}`),
        errorGmm,
      },
    ];
  });
  if (placed.length > 0) return placed;
  throw new ValueFault('--plane-a: expected an amount at an angle, such as 3.2gmm@120; it is missing');
}

function resolvedOf(read: FlagReader, [a, b]: readonly PlacedUnbalance[]): StaticAndCouple | undefined {
  const centreOfMassMm = read.value('centre-of-mass', 'length');
  if (centreOfMassMm === undefined) return undefined;
  if (a === undefined || b === undefined) {
    throw new ValueFault('--plane-b: expected with --centre-of-mass: a couple takes two planes');
  }
  return resolveStaticAndCouple(a.unbalance, b.unbalance, {
    planeAMm: a.positionMm,
    planeBMm: b.positionMm,
    centreOfMassMm,
  });
}

function movedOf(read: FlagReader, placed: readonly PlacedUnbalance[]): (MovedUnbalance & To) | undefined {
  if (!read.has('to-a-at') && !read.has('to-b-at')) return undefined;
  const planeAMm = read.needed('to-a-at', 'length', 'a position, with --to-b-at');
  const planeBMm = read.needed('to-b-at', 'length', 'a position, with --to-a-at');
  return { ...moveToPlanes(placed, { planeAMm, planeBMm }), planeAMm, planeBMm };
}

/** So near to each other that no correction is advised in them. */
function coincideRemarks(which: string, [aMm, bMm]: readonly number[], system: UnitSystem): readonly string[] {
  if (aMm === undefined || bMm === undefined || Math.abs(aMm - bMm) >= SAME_POSITION_MM) return [];
  return [`${which}${COINCIDE_WORDS} (nearer than ${showValue('length', SAME_POSITION_MM, system)})`];
}

interface To {
  readonly planeAMm: number;
  readonly planeBMm: number;
}

function resolvedTable(resolved: StaticAndCouple, read: FlagReader): AnswerTable {
  const pair = resolved.couplePairInB;
  const opposite = { ...pair, angleDeg: (pair.angleDeg + 180) % 360 };
  return {
    title: 'Static and couple',
    rows: [
      ['static unbalance', showVector(resolved.static, read.system)],
      [
        'couple unbalance',
        `${showValue('couple', resolved.coupleGmm2, read.system)} at ${showValue('angle', resolved.coupleAngleDeg)}`,
      ],
      ['as a pair', `${showVector(opposite, read.system)} in A, ${showVector(pair, read.system)} in B`],
    ],
  };
}

function movedTable(moved: MovedUnbalance & To, read: FlagReader): AnswerTable {
  const row = (name: string, atMm: number, vector: MovedUnbalance['planeA'], errorGmm: number): string[] => [
    name,
    `at ${showValue('length', atMm, read.system)}`,
    showVector(vector, read.system),
    ...(errorGmm === 0 ? [] : [`± ${showValue('unbalance', errorGmm, read.system)}`]),
  ];
  return {
    title: 'In the other planes',
    rows: [
      row('plane A', moved.planeAMm, moved.planeA, moved.errorAGmm),
      row('plane B', moved.planeBMm, moved.planeB, moved.errorBGmm),
    ],
  };
}

function resolvedExplained(
  resolved: StaticAndCouple,
  placed: readonly PlacedUnbalance[],
  centreMm: number,
): Explanation {
  const moments = placed.map(
    ({ unbalance, positionMm }) =>
      `${inFigures(unbalance.gmm)} g·mm∠${inFigures(unbalance.angleDeg)}°·(${inFigures(positionMm)} − ${inFigures(centreMm)}) mm`,
  );
  return {
    what: 'static and couple unbalance',
    formula: 'U_s = U_A + U_B; C = U_A·(a − s) + U_B·(b − s), as vectors',
    numbers: `C: ${moments.join(' + ')}`,
    result: `${inFigures(resolved.static.gmm, 7)} g·mm; ${inFigures(resolved.coupleGmm2, 7)} g·mm²`,
    source: 'ISO 21940-2 for the terms; statics',
  };
}

function movedExplained(moved: MovedUnbalance & To, placed: readonly PlacedUnbalance[]): Explanation {
  const apart = `(${inFigures(moved.planeBMm)} − ${inFigures(moved.planeAMm)}) mm`;
  const levers = placed.map(
    ({ unbalance, positionMm }) =>
      `${inFigures(unbalance.gmm)} g·mm·(${inFigures(moved.planeBMm)} − ${inFigures(positionMm)}) mm / ${apart}`,
  );
  return {
    what: 'in the other planes',
    formula: 'U_A = Σ U·(b − z)/(b − a), U_B = Σ U·(z − a)/(b − a), as vectors',
    numbers: `in A ${levers.join(' + ')}`,
    result: `${inFigures(moved.planeA.gmm, 7)} g·mm in A, ${inFigures(moved.planeB.gmm, 7)} g·mm in B`,
    source: 'statics of the rigid rotor',
  };
}
