// Of the dates that were foretold: how many held, over all shapes and for each, and how often one was said of a level that stays.
import type { EvaluationFigure } from '../figures.ts';
import type { CourseVerdict } from './course-trial.ts';

const sum = (verdicts: readonly CourseVerdict[], of: (verdict: CourseVerdict) => number): number =>
  verdicts.reduce((all, verdict) => all + of(verdict), 0);

function figure(name: string, value: number, better: EvaluationFigure['better']): EvaluationFigure {
  return { name, value: Number(value.toPrecision(4)), unit: '1', better, baseline: null };
}

const isOfTrend = ({ shape }: CourseVerdict): boolean => shape !== 'level';

/** Shares of what was said; NaN where nothing was. */
export function aheadFiguresOf(verdicts: readonly CourseVerdict[]): readonly EvaluationFigure[] {
  const trends = verdicts.filter(isOfTrend);
  const levels = verdicts.filter((verdict) => !isOfTrend(verdict));
  return [
    figure('decide.forecast_coverage_80', sum(trends, (one) => one.within) / sum(trends, (one) => one.said), 'higher'),
    figure(
      'decide.forecast_recorded_coverage_80',
      sum(trends, (one) => one.recordedWithin) / sum(trends, (one) => one.recorded),
      'higher',
    ),
    figure('decide.forecast_of_level_share', sum(levels, (one) => one.said) / sum(levels, (one) => one.looks), 'lower'),
  ];
}

/** One line a shape. */
export function aheadTableOf(verdicts: readonly CourseVerdict[]): string {
  const shapes = [...new Set(verdicts.map(({ shape }) => shape))];
  const rows = shapes.map((shape) => {
    const own = verdicts.filter((verdict) => verdict.shape === shape);
    const said = sum(own, (one) => one.said);
    const percent = (hits: number): string => (said === 0 ? '' : `${((100 * hits) / said).toFixed(1)} %`);
    const recorded = sum(own, (one) => one.recorded);
    return [
      shape,
      String(own.length),
      String(sum(own, (one) => one.looks)),
      String(said),
      percent(sum(own, (one) => one.within)),
      percent(sum(own, (one) => one.before)),
      percent(sum(own, (one) => one.after)),
      String(recorded),
      recorded === 0 ? '' : `${((100 * sum(own, (one) => one.recordedWithin)) / recorded).toFixed(1)} %`,
    ];
  });
  const head = ['course', 'courses', 'looks', 'dates', 'held', 'came before', 'came after', 'on record', 'held'];
  const lines = [head, ...rows];
  const widths = head.map((_, column) => Math.max(...lines.map((line) => line[column]?.length ?? 0)));
  return lines.map((line) => line.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join('  ')).join('\n');
}
