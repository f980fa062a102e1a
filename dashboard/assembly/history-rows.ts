// Measurements and corrections in one order, newest first: what was measured, what was done about it, what came of it. Pure.
import type { CorrectionView, MeasurementView } from '../../shared/assembly-views.ts';
import { vector } from '../wording/figures.ts';

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

/** The newest correction of this build that nothing has been measured after. */
export function uncheckedCorrection(
  corrections: readonly CorrectionView[],
  buildId: string | undefined,
): CorrectionView | undefined {
  const ofThis = corrections.filter((correction) => buildId === undefined || correction.buildId === buildId);
  const newest = [...ofThis].sort((a, b) => b.at - a.at || b.position - a.position)[0];
  return newest?.after === undefined ? newest : undefined;
}

/** What it should have changed and what it did, plane by plane. */
export function changeWords({ planes, after }: Pick<CorrectionView, 'planes' | 'after'>): string[] {
  return planes.map((plane) => {
    const name = planes.length > 1 ? `${plane.name}: ` : '';
    const predicted =
      plane.predictedGmm === undefined
        ? 'nothing was predicted'
        : `predicted change ${vector(plane.predictedGmm, plane.predictedAngleDeg)}`;
    if (after === undefined) return `${name}${predicted}; not measured since`;
    const achieved =
      plane.achievedGmm === undefined
        ? 'what it changed is not known'
        : `achieved ${vector(plane.achievedGmm, plane.achievedAngleDeg)}`;
    return `${name}${predicted}, ${achieved}`;
  });
}
