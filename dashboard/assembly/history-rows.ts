// Measurements and corrections in one order, newest first: what was measured, what was done about it, what came of it. Pure.
import type { AssemblyView, CorrectionView, MeasurementView } from '../../shared/assembly-views.ts';
import { vector } from '../wording/figures.ts';
import { say } from '../../shared/language/index.ts';

export type HistoryRow =
  | { readonly kind: 'measurement'; readonly measurement: MeasurementView }
  | { readonly kind: 'correction'; readonly correction: CorrectionView };

export function historyRows(
  measurements: readonly MeasurementView[],
  corrections: readonly CorrectionView[],
): HistoryRow[] {
  const rows: HistoryRow[] = [
    ...measurements.map((measurement) => ({ kind: 'measurement' as const, measurement })),
    ...corrections.map((correction) => ({ kind: 'correction' as const, correction })),
  ];
  return rows.sort((a, b) => partOf(b).at - partOf(a).at || partOf(b).position - partOf(a).position);
}

function partOf(row: HistoryRow): MeasurementView | CorrectionView {
  return row.kind === 'measurement' ? row.measurement : row.correction;
}

export interface BuildHistory {
  readonly buildId: string;
  readonly rows: readonly HistoryRow[];
}

/** Each build by itself, the newest first: what was measured of an earlier one says nothing about this one. */
export function byBuild(rows: readonly HistoryRow[]): BuildHistory[] {
  const builds = new Map<string, HistoryRow[]>();
  for (const row of rows) {
    const { buildId } = partOf(row);
    builds.set(buildId, [...(builds.get(buildId) ?? []), row]);
  }
  return [...builds].map(([buildId, own]) => ({ buildId, rows: own }));
}

/** Where a build stands against the one in force, by the order of time: what was sent later is not of before. */
export function buildWords(
  { buildId, rows }: BuildHistory,
  { row, builtAt }: Pick<AssemblyView, 'row' | 'builtAt'>,
  builds: readonly BuildHistory[],
): string {
  if (row.buildId === undefined) return '';
  if (buildId === row.buildId) return say`, in force`;
  const inForce = builds.find((build) => build.buildId === row.buildId)?.rows.at(-1);
  const since = builtAt ?? (inForce === undefined ? undefined : partOf(inForce).at);
  const [newest] = rows;
  if (since === undefined || newest === undefined) return say`, not in force`;
  return partOf(newest).at < since ? say`, before it` : say`, not in force: recorded since ${row.buildId} was built`;
}

/** The newest correction of this build that nothing has been measured after. */
export function uncheckedCorrection(
  corrections: readonly CorrectionView[],
  buildId: string | undefined,
): CorrectionView | undefined {
  const ofThis = corrections.filter(
    (correction) => correction.replacedBy === undefined && (buildId === undefined || correction.buildId === buildId),
  );
  const newest = [...ofThis].sort((a, b) => b.at - a.at || b.position - a.position)[0];
  return newest?.after === undefined ? newest : undefined;
}

const NOT_KNOWN = say`what it should change is not known`;

/** What it should have changed and what it did, plane by plane. */
export function changeWords({
  planes,
  after,
  replacedBy,
}: Pick<CorrectionView, 'planes' | 'after' | 'replacedBy'>): string[] {
  if (replacedBy !== undefined) return [];
  const measured = after === undefined ? say`; not measured since` : '';
  if (planes.length === 0) return [`${NOT_KNOWN}${measured}`];
  return planes.map((plane) => {
    const name = planes.length > 1 ? `${plane.name}: ` : '';
    const predicted =
      plane.predictedGmm === undefined
        ? NOT_KNOWN
        : say`predicted change ${vector(plane.predictedGmm, plane.predictedAngleDeg)}`;
    if (after === undefined) return `${name}${predicted}${measured}`;
    const achieved =
      plane.achievedGmm === undefined
        ? say`what it changed is not known`
        : say`achieved ${vector(plane.achievedGmm, plane.achievedAngleDeg)}`;
    return `${name}${predicted}, ${achieved}`;
  });
}
