// Lives of cutters as they are told, each with the residual unbalance it ran with: remembered by kind of cutter.
import type { EntryOf } from '../../shared/entries.ts';
import type { AssemblyState, Floor } from './floor.ts';
import type { CutterLives } from './tool-life-facts.ts';
import { buildInForce, buildOf } from './in-force.ts';

/** Of a kind of cutter, the newest; older ones stand in the journal. */
export const LIVES_PER_CUTTER_MAX = 200;
/** Kinds of cutter; a further one is not remembered. */
export const CUTTERS_MAX = 500;

export function foldToolLife(floor: Floor, { data, at }: EntryOf<'life'>): void {
  const assembly = floor.assemblies.get(data.assemblyId);
  if (assembly === undefined || data.lifeMin <= 0) return;
  const buildId = data.buildId ?? buildInForce(assembly, undefined);
  const cutter = buildOf(assembly, buildId)?.parts.find(({ role }) => role === 'cutter')?.name;
  if (cutter === undefined) return;
  const known = floor.cutters.get(cutter);
  if (known === undefined && floor.cutters.size >= CUTTERS_MAX) return;
  floor.cutters.set(
    cutter,
    withLife(known ?? { cutter, lives: [], withoutResidual: 0 }, data, at, shareOf(assembly, buildId)),
  );
}

function withLife(
  lives: CutterLives,
  { lifeMin, ended }: EntryOf<'life'>['data'],
  at: number,
  share: number | undefined,
): CutterLives {
  if (share === undefined) return { ...lives, withoutResidual: lives.withoutResidual + 1 };
  // Changed as planned, or for another reason: it would have lasted longer.
  const isEnd = ended === 'worn' || ended === 'broken';
  return { ...lives, lives: [...lives.lives, { at, minutes: lifeMin, isEnd, share }].slice(-LIVES_PER_CUTTER_MAX) };
}

/** Residual ÷ permissible of the build that it was, by its last measurement. */
function shareOf({ measurements }: AssemblyState, buildId: string | undefined): number | undefined {
  const measurement = measurements.findLast((one) => one.buildId === buildId && !one.voided);
  return measurement?.judgement.factor;
}
