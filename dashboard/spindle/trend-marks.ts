// The lines across a trend: limits in force, boundaries of zones, what was usual and from where on a change counts. Pure.
import { say } from '../../shared/language/index.ts';
import type { SeriesQuantity } from '../../shared/series-quantities.ts';
import type { SpindleView } from '../../shared/views.ts';
import { GENERIC_WORDS } from '../../shared/severity-words.ts';
import { speed, velocity } from '../wording/figures.ts';
import type { SeverityBin } from './spindle-rows.ts';

export interface TrendMark {
  readonly kind: 'limit' | 'zone' | 'usual' | 'change';
  readonly mmS: number;
  /** On the line. */
  readonly word: string;
  /** In the list below: with whose it is. */
  readonly told: string;
}

type Judged = Pick<SpindleView, 'limits' | 'severity'>;

/** Those that belong to what is shown, at the speed that was chosen, or at all of them. */
export function trendMarks(
  { limits, severity }: Judged,
  quantity: SeriesQuantity,
  bin: SeverityBin | undefined,
): readonly TrendMark[] {
  switch (quantity) {
    case 'overallMmS':
      return [...limitMarks(limits, 'overall', bin), ...zoneMarks(severity.zones), ...usualMarks(bin)];
    case 'synchronousMmS':
      return limitMarks(limits, 'synchronous', bin);
    case 'ratio':
    case 'speedRpm':
      return [];
  }
}

function limitMarks(
  limits: SpindleView['limits'],
  quantity: SpindleView['limits'][number]['quantity'],
  bin: SeverityBin | undefined,
): readonly TrendMark[] {
  const there = limits.filter(
    (limit) =>
      limit.quantity === quantity &&
      (bin === undefined || (limit.fromSpeedRpm <= bin.toSpeedRpm && limit.toSpeedRpm >= bin.fromSpeedRpm)),
  );
  return there.map(({ limitMmS, source, sourceDate, fromSpeedRpm, toSpeedRpm }) => {
    const word = say`limit ${velocity(limitMmS)}, ${speed(fromSpeedRpm)} to ${speed(toSpeedRpm)}`;
    const dated = sourceDate === undefined ? source : `${source}, ${sourceDate.slice(0, 10)}`;
    return { kind: 'limit', mmS: limitMmS, word, told: `${word}: ${dated}` };
  });
}

function zoneMarks(zones: SpindleView['severity']['zones']): readonly TrendMark[] {
  if (zones === undefined) return [];
  const whose = `${zones.source}${zones.generic ? `; ${GENERIC_WORDS}` : ''}`;
  const mark = (word: string, mmS: number): TrendMark => ({
    kind: 'zone',
    mmS,
    word: zones.generic ? say`general table, zones ${word}` : say`zones ${word}`,
    told: say`boundary of zones ${word} at ${velocity(mmS)}: ${whose}`,
  });
  return [mark('A/B', zones.abMmS), mark('B/C', zones.bcMmS), mark('C/D', zones.cdMmS)];
}

const STEP_WORDS = {
  boundary: say`25 % of the boundary B/C`,
  limit: say`25 % of the limit`,
  usual: say`25 % of what was usual`,
  floor: say`the least step`,
} as const;

function usualMarks(bin: SeverityBin | undefined): readonly TrendMark[] {
  const { usual } = bin ?? {};
  if (usual === undefined) return [];
  const { usualMmS, risenFromMmS, fallenFromMmS, stepMmS, stepIs, readings } = usual;
  const step = say`a step of ${velocity(stepMmS)}, ${STEP_WORDS[stepIs]}`;
  const change = (word: string, mmS: number): TrendMark => ({
    kind: 'change',
    mmS,
    word,
    told: `${word} ${velocity(mmS)}: ${step}`,
  });
  return [
    {
      kind: 'usual',
      mmS: usualMmS,
      word: say`usual`,
      told: say`usual ${velocity(usualMmS)}: mean of ${readings} readings`,
    },
    change(say`risen from`, risenFromMmS),
    ...(fallenFromMmS > 0 ? [change(say`fallen below`, fallenFromMmS)] : []),
  ];
}

/** How high the picture has to reach: to the lowest limit, else to where a change would begin; 0 where there is neither. */
export function topMark(marks: readonly TrendMark[]): number {
  const least = (kind: TrendMark['kind']): number =>
    Math.min(...marks.filter((mark) => mark.kind === kind).map((mark) => mark.mmS));
  const limit = least('limit');
  if (Number.isFinite(limit)) return limit;
  const risen = Math.max(0, ...marks.filter((mark) => mark.kind === 'change').map((mark) => mark.mmS));
  return risen;
}
