// Looking ahead: once a day, at each speed, when the level reaches the limit in force; on record when that is near. Never a hold.
import { LIMIT_QUANTITIES, type LimitQuantity } from '../../shared/acts.ts';
import type { LimitAhead } from '../../shared/ahead.ts';
import type { EntryOf } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import { limitInForce } from '../../shared/limit-in-force.ts';
import type { Outcome, ReadingFeatures } from '../../shared/outcomes.ts';
import { outlook, OUTLOOK_POINTS_MIN, straightLine, type Outlook } from '../../shared/statistics/index.ts';
import { MILLISECONDS_A_DAY, type Instant } from '../../shared/time.ts';
import {
  AHEAD_BACK_DAYS,
  AHEAD_HORIZON_DAYS,
  AHEAD_LOOK_DAYS,
  AHEAD_LOOK_ERRORS,
  AHEAD_MOVED_DAYS,
  AHEAD_MOVED_SHARE,
  AHEAD_STANDS_DAYS,
  AHEAD_TOLD_DAYS,
} from './ahead-limits.ts';
import { authorOf } from './authors.ts';
import { CLEAR_SHARE } from './limits.ts';
import { daysEnded, endsDay, type Days } from './daily-levels.ts';
import type { SpeedBin, SpindleLive, SpindleState } from './floor.ts';

type Told = Extract<Outcome, { kind: 'limit-ahead' }>;

/** What a level may reach, mm/s RMS, and who says so. */
export interface Boundary {
  readonly kind: 'limit' | 'zones';
  readonly mmS: number;
  readonly source: string;
}

/**
 * The maker's limit at the bin's speed; for the overall value else the boundary of zones next above the level, but A/B, which asks
 * nothing of anybody. Undefined where there is none, or where the level is there already.
 */
export function boundaryAhead(
  { declaration }: SpindleState,
  { centreRpm }: SpeedBin,
  quantity: LimitQuantity,
  levelMmS: number,
): Boundary | undefined {
  if (declaration === undefined) return undefined;
  const limit = limitInForce(declaration.limits, quantity, centreRpm);
  if (limit !== undefined) {
    const by = authorOf(declaration, limit);
    return levelMmS < limit.limitMmS ? { kind: 'limit', mmS: limit.limitMmS, source: said(limit, by) } : undefined;
  }
  const { zones } = declaration;
  if (zones === undefined || quantity !== 'overall') return undefined;
  const mmS = [zones.bcMmS, zones.cdMmS].find((boundary) => levelMmS < boundary);
  return mmS === undefined ? undefined : { kind: 'zones', mmS, source: said(zones, declaration.zonesBy) };
}

function said({ source, sourceDate }: { source: string; sourceDate?: string | undefined }, by = say`nobody`): string {
  const dated = sourceDate === undefined ? source : `${source}, ${sourceDate.slice(0, 10)}`;
  return say`${dated}; entered by ${by}`;
}

/** What the days say; `boundary` undefined: nothing to reach. */
export function outlookOf({ days, levelsMmS }: Days, boundary: Boundary | undefined): Outlook {
  return outlook(days, levelsMmS, boundary?.mmS, AHEAD_HORIZON_DAYS);
}

/** The middle of a day is the time of its level. */
export const atDay = (day: number): Instant => Math.round((day + 0.5) * MILLISECONDS_A_DAY);

/** What a reading that ends a day gives to be put on record; as a rule it ends none, and nothing is allocated. */
export function aheadRule(
  spindle: SpindleState,
  bin: SpeedBin | undefined,
  entry: EntryOf<'summary'>,
  features: ReadingFeatures,
  at: Instant,
): readonly Told[] | undefined {
  const daily = bin?.daily;
  if (bin === undefined || !endsDay(daily, features.notComparable, at)) return undefined;
  let told: Told[] | undefined;
  for (const quantity of LIMIT_QUANTITIES) {
    const ahead = aheadNow(spindle, bin, quantity, daysEnded(daily, daily[quantity]));
    if (ahead === undefined) continue;
    (told ??= []).push({
      cause: entry.position,
      kind: 'limit-ahead',
      spindleId: spindle.spindleId,
      ahead: { at, speedBin: bin.bin, speedRpm: Math.round(bin.centreRpm), quantity, ...ahead },
    });
  }
  return told;
}

type Ahead = Omit<LimitAhead, 'at' | 'speedBin' | 'speedRpm' | 'quantity'>;

function aheadNow(spindle: SpindleState, bin: SpeedBin, quantity: LimitQuantity, days: Days): Ahead | undefined {
  const levelMmS = days.levelsMmS.at(-1);
  const today = days.days.at(-1);
  const before = bin.daily?.[quantity].told;
  const stands = before?.p50At === undefined ? undefined : before;
  if (levelMmS === undefined || today === undefined || days.days.length < OUTLOOK_POINTS_MIN) return undefined;
  const boundary = boundaryAhead(spindle, bin, quantity, levelMmS);
  // What was said of a limit that is no more in force is taken back; of one that is reached it was right.
  if (boundary === undefined)
    return stands === undefined || levelMmS >= stands.limitMmS ? undefined : back(stands, levelMmS);
  if (stands === undefined && !mayRise(days)) return undefined;
  const { p10, p50, p90 } = outlookOf(days, boundary).reached ?? {};
  const whole = { levelMmS, limitMmS: boundary.mmS, source: boundary.source };
  if (p50 !== undefined && p50 <= AHEAD_TOLD_DAYS) {
    const p50At = atDay(today + p50);
    if (stands?.p50At !== undefined && !hasMoved(stands.p50At, p50At, atDay(today))) return undefined;
    return {
      ...whole,
      p50At,
      ...(p10 === undefined ? {} : { p10At: atDay(today + p10) }),
      ...(p90 === undefined ? {} : { p90At: atDay(today + p90) }),
    };
  }
  // So near to it nothing is taken back: the bank may see it there already.
  const isNear = levelMmS >= CLEAR_SHARE * boundary.mmS;
  if (stands === undefined || isNear || (p50 !== undefined && p50 <= AHEAD_BACK_DAYS)) return undefined;
  return atDay(today) - stands.at >= AHEAD_STANDS_DAYS * MILLISECONDS_A_DAY ? whole : undefined;
}

const back = ({ limitMmS, source }: LimitAhead, levelMmS: number): Ahead => ({ levelMmS, limitMmS, source });

function hasMoved(wasAt: Instant, isAt: Instant, now: Instant): boolean {
  const leastMs = Math.max(AHEAD_MOVED_DAYS * MILLISECONDS_A_DAY, AHEAD_MOVED_SHARE * Math.abs(wasAt - now));
  return Math.abs(isAt - wasAt) >= leastMs;
}

/** Whether it is worth to reckon: most levels rise nowhere, and a line says so in a thousandth of the time. */
export function mayRise({ days, levelsMmS }: Days): boolean {
  const rises = (x: readonly number[], y: readonly number[]): boolean => {
    const line = straightLine(x, y);
    return line !== undefined && line.slope > AHEAD_LOOK_ERRORS * line.slopeError;
  };
  return rises(days, levelsMmS) || rises(days.slice(-AHEAD_LOOK_DAYS), levelsMmS.slice(-AHEAD_LOOK_DAYS));
}

/** Remembers what was put on record. */
export function foldAhead(live: SpindleLive, { ahead }: Told): void {
  const track = live.bins.get(ahead.speedBin)?.daily?.[ahead.quantity];
  if (track !== undefined) track.told = ahead;
}
