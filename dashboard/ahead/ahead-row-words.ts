// What is said of one row ahead: which speed and quantity, since when it is on record, and how the same reckoning did lately.
import type { AheadBackTest, AheadRow } from '../../shared/ahead-plant.ts';
import { retell, say } from '../../shared/language/index.ts';
import { speed, velocity } from '../wording/figures.ts';
import { day } from '../wording/instants.ts';

export const QUANTITY_WORDS: Readonly<Record<AheadRow['quantity'], string>> = {
  overall: say`overall`,
  synchronous: '1×',
};

export const courseWords = ({ speedRpm, quantity }: AheadRow): string =>
  say`${QUANTITY_WORDS[quantity]} at about ${speed(speedRpm)}`;

export function limitWords({ limit, levelMmS }: AheadRow): string {
  const level = velocity(levelMmS);
  return limit.kind === 'limit'
    ? say`now ${level}, limit ${velocity(limit.mmS)}: ${retell(limit.source)}`
    : say`now ${level}, boundary of zones ${velocity(limit.mmS)}: ${retell(limit.source)}`;
}

export function toldWords({ told }: AheadRow, zone: string): string {
  return told === undefined
    ? say`not on record: that begins 30 days before`
    : say`on record since ${day(told.at, zone)}, then about ${day(told.p50At, zone)}`;
}

/** In words from what day on it was put back, what it said then, and what came. */
export function backTestWords({ backTest }: AheadRow, zone: string): string {
  if (backTest === undefined) return say`not tried on its own past: too few days, or its level stayed`;
  const { did, from, levelMmS, cameAt, p10At, p50At } = backTest;
  const [since, level, came] = [day(from, zone), velocity(levelMmS), day(cameAt, zone)];
  if (did === 'nothing-foretold' || p50At === undefined)
    return say`tried on its days up to ${since}: it did not foretell ${level}, which came on ${came}`;
  const between = `${day(p10At ?? p50At, zone)} – ${lastDay(backTest, zone)}`;
  switch (did) {
    case 'within':
      return say`tried on its days up to ${since}: ${level} was foretold for ${between} and came on ${came}, within`;
    case 'earlier':
      return say`tried on its days up to ${since}: ${level} was foretold for ${between} and came earlier, on ${came}`;
    case 'later':
      return say`tried on its days up to ${since}: ${level} was foretold for ${between} and came later, on ${came}`;
  }
}

const lastDay = ({ p90At }: AheadBackTest, zone: string): string => (p90At === undefined ? '?' : day(p90At, zone));

export const DID_WORDS: Readonly<Record<AheadBackTest['did'], string>> = {
  within: say`came within`,
  earlier: say`came earlier`,
  later: say`came later`,
  'nothing-foretold': say`not foretold`,
};
