// What one line of severity says: where a level stands, how far it is from what was usual, and whose the boundaries are. Pure.
import { say } from '../../shared/language/index.ts';
import type { SpindleView } from '../../shared/views.ts';
import { MISSING, amount, graduation, velocity } from '../wording/figures.ts';
import { shownUnit } from '../wording/units.ts';
import type { SeverityBin } from './spindle-rows.ts';

export const RUNG_WORDS = {
  within: say`within the limit`,
  over: say`over the limit`,
  A: say`zone A`,
  B: say`zone B`,
  C: say`zone C`,
  D: say`zone D`,
  usual: say`as usual`,
  risen: say`risen`,
  fallen: say`fallen`,
} as const satisfies Record<NonNullable<SeverityBin['rung']>, string>;

type Stands = Pick<SeverityBin, 'levelMmS' | 'against' | 'rung' | 'levelRung' | 'boundaryMmS'>;

/** The word, and the boundary that it is said of: the next above, of the topmost zone the one below. */
export function standsWords(
  { levelMmS, against, rung, levelRung, boundaryMmS }: Stands,
  zones: SpindleView['severity']['zones'],
): string {
  if (levelMmS === undefined) return say`not judged yet`;
  if (rung === undefined)
    return against === 'limit' || against === 'zones' ? say`not certain yet` : say`no limit, no zones`;
  // Its level is shown beside it: what the level says comes first, the record follows it.
  if (levelRung !== undefined) return say`by now ${RUNG_WORDS[levelRung]}; on record ${RUNG_WORDS[rung]}`;
  const word = RUNG_WORDS[rung];
  switch (rung) {
    case 'within':
      return boundaryMmS === undefined ? word : say`within ${velocity(boundaryMmS)}`;
    case 'over':
      return boundaryMmS === undefined ? word : say`over ${velocity(boundaryMmS)}`;
    case 'A':
    case 'B':
    case 'C':
      return boundaryMmS === undefined ? word : say`${word}, up to ${velocity(boundaryMmS)}`;
    case 'D':
      return zones === undefined ? word : say`${word}, above ${velocity(zones.cdMmS)}`;
    case 'usual':
    case 'risen':
    case 'fallen':
      return word;
  }
}

/** How far the level is from what was usual, mm/s with its sign; of no account between readings that round to nothing. */
export function changeOf({ levelMmS, usual }: Pick<SeverityBin, 'levelMmS' | 'usual'>): string {
  if (levelMmS === undefined || usual === undefined) return MISSING;
  const change = Math.round((levelMmS - usual.usualMmS) * 100) / 100;
  if (change === 0) return '0';
  return `${change > 0 ? '+' : '−'}${shownUnit('mm/s').converted ? amount(Math.abs(change), 'mm/s') : graduation(Math.abs(change))}`;
}

export interface SourceOfBins {
  readonly source: string;
  readonly against: 'limit' | 'zones';
  readonly speedsRpm: readonly number[];
}

/** Of limits and zones; what was usual stands on each line itself. */
export function sourcesOf(
  bins: readonly Pick<SeverityBin, 'source' | 'against' | 'speedRpm'>[],
): readonly SourceOfBins[] {
  const found = new Map<string, SourceOfBins>();
  for (const { source, against, speedRpm } of bins) {
    if (source === undefined || (against !== 'limit' && against !== 'zones')) continue;
    const key = `${against} ${source}`;
    found.set(key, { source, against, speedsRpm: [...(found.get(key)?.speedsRpm ?? []), speedRpm] });
  }
  return [...found.values()];
}
