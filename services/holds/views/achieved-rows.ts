// How much a method really achieves on a bench against what was predicted, over the corrections that are remembered.
import { say } from '../../../shared/language/index.ts';
import { methodWords } from '../../../shared/method-words.ts';
import { median } from '../../../shared/statistics/index.ts';
import type { AchievedRow } from '../../../shared/tool-room.ts';
import { amountWords } from '../../../shared/wording.ts';
import type { Floor } from '../../rules/index.ts';

interface Group {
  readonly bench: string;
  readonly method: string;
  readonly ratios: number[];
  readonly anglesOffDeg: number[];
}

export function achievedRows(floor: Floor): AchievedRow[] {
  const groups = new Map<string, Group>();
  for (const { corrections } of floor.assemblies.values()) {
    for (const { achieved } of corrections) {
      if (achieved === undefined) continue;
      const { bench, method, amountRatio, angleOffDeg } = achieved;
      const key = `${bench}|${method}`;
      const group = groups.get(key) ?? { bench, method, ratios: [], anglesOffDeg: [] };
      group.ratios.push(amountRatio);
      group.anglesOffDeg.push(angleOffDeg);
      groups.set(key, group);
    }
  }
  return [...groups.values()].map(rowOf).toSorted((a, b) => order(a.bench, b.bench) || order(a.method, b.method));
}

const order = (a: string, b: string): number => (a === b ? 0 : a < b ? -1 : 1);

function rowOf({ bench, method, ratios, anglesOffDeg }: Group): AchievedRow {
  const sorted = ratios.toSorted((a, b) => a - b);
  const corrections = sorted.length;
  const amountRatio = median(sorted) ?? 0;
  // The middle half by the medians of both halves (Tukey's hinges).
  const half = Math.ceil(corrections / 2);
  const amountRatioLow = median(sorted.slice(0, half)) ?? amountRatio;
  const amountRatioHigh = median(sorted.slice(corrections - half)) ?? amountRatio;
  const angleOffDeg = median(anglesOffDeg) ?? 0;
  const what = methodWords(method);
  const off = amountWords(Math.round(angleOffDeg));
  const sentence =
    corrections === 1
      ? say`${what} on ${bench}, once: ${percent(amountRatio)} of what was predicted, ${off}° off.`
      : say`${what} on ${bench}, ${corrections} times: ${percent(amountRatio)} of what was predicted, half of them ${percent(amountRatioLow)} to ${percent(amountRatioHigh)}, ${off}° off.`;
  return { bench, method, corrections, amountRatio, amountRatioLow, amountRatioHigh, angleOffDeg, sentence };
}

const percent = (ratio: number): string => `${Math.round(ratio * 100)} %`;
