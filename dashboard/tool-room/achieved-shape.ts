// How much of what was predicted each method achieves on each bench, on one scale with 1 marked. Pure.
import type { AchievedRow } from '../../shared/tool-room.ts';

export interface AchievedSpan {
  readonly low: number;
  readonly dot: number;
  readonly high: number;
}

const LEAST_MAX = 1.5;

export function achievedMax(rows: readonly AchievedRow[]): number {
  return Math.max(LEAST_MAX, ...rows.map(({ amountRatioHigh }) => amountRatioHigh)) * 1.05;
}

export function spanOf(row: AchievedRow, max: number, widthPx: number): AchievedSpan {
  const x = (ratio: number): number => (Math.max(0, ratio) / max) * widthPx;
  return { low: x(row.amountRatioLow), dot: x(row.amountRatio), high: x(row.amountRatioHigh) };
}
