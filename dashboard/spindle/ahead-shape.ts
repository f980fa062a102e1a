// Looking ahead as a picture: where days, the limit, breaks and the days around the crossing lie on paper. Pure.
import type { AheadView } from '../../shared/ahead.ts';
import { MILLISECONDS_A_DAY } from '../time-spans.ts';

export interface Paper {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface AheadShape {
  readonly from: number;
  readonly to: number;
  readonly topMmS: number;
  /** The middle of the days since the last break, carried on to where it is told; undefined where there is no slope. */
  readonly line:
    | { readonly from: number; readonly fromMmS: number; readonly to: number; readonly toMmS: number }
    | undefined;
  /** The days around the crossing; `open` where the last of them cannot be told: the bar runs off the paper. */
  readonly bar:
    | { readonly from: number; readonly middle: number; readonly to: number; readonly open: boolean }
    | undefined;
}

/** Room on the right of the last day, as a share of the days shown, where nothing is foretold. */
const ROOM_SHARE = 0.06;
/** A crossing further off than so many times the days that are known is cut off at the edge of the paper. */
const AHEAD_TIMES_MAX = 3;

/** Undefined without days. */
export function aheadShape(view: AheadView): AheadShape | undefined {
  const { days, limit, p10At, p50At, p90At, slope } = view;
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  const known = Math.max(last.at - first.at, MILLISECONDS_A_DAY);
  const furthest = last.at + AHEAD_TIMES_MAX * known;
  const wanted = p50At === undefined ? last.at : Math.max(p90At ?? p50At + (p50At - (p10At ?? p50At)), p50At);
  const to = Math.min(furthest, wanted) + ROOM_SHARE * known;
  const highest = Math.max(...days.map(({ mmS }) => mmS));
  const topMmS = Math.max(highest, limit === undefined || limit.mmS > highest * LIMIT_TIMES_MAX ? 0 : limit.mmS) * 1.15;
  const bar =
    p50At === undefined
      ? undefined
      : { from: p10At ?? p50At, middle: p50At, to: p90At ?? to, open: p90At === undefined };
  return { from: first.at, to, topMmS, line: slope === undefined ? undefined : lineOf(view, slope, p50At), bar };
}

/** A limit further above the levels than this is left off the paper, and told in words: the levels would lie flat on the ground. */
const LIMIT_TIMES_MAX = 6;

function lineOf({ days }: AheadView, slope: NonNullable<AheadView['slope']>, p50At: number | undefined) {
  const since = days.filter(({ at }) => at >= slope.since);
  const middle = (values: readonly number[]): number => {
    const sorted = values.toSorted((a, b) => a - b);
    return ((sorted[Math.floor((sorted.length - 1) / 2)] ?? 0) + (sorted[Math.floor(sorted.length / 2)] ?? 0)) / 2;
  };
  const [at, mmS] = [middle(since.map((one) => one.at)), middle(since.map((one) => one.mmS))];
  const levelAt = (then: number): number => mmS + (slope.perWeekMmS * (then - at)) / (7 * MILLISECONDS_A_DAY);
  const to = p50At ?? days.at(-1)?.at ?? slope.since;
  return { from: slope.since, fromMmS: levelAt(slope.since), to, toMmS: levelAt(to) };
}

export function placesOn({ from, to, topMmS }: AheadShape, { left, right, top, bottom }: Paper) {
  return {
    x: (at: number): number => left + ((Math.min(Math.max(at, from), to) - from) / (to - from)) * (right - left),
    y: (mmS: number): number => bottom - (Math.min(Math.max(mmS, 0), topMmS) / topMmS) * (bottom - top),
  };
}

/** Round levels from zero up, as many as there is room for. */
export function levelTicks(topMmS: number, most: number): number[] {
  const decade = 10 ** Math.floor(Math.log10(topMmS));
  const step =
    [0.1, 0.2, 0.5, 1, 2].map((factor) => factor * decade).find((wide) => topMmS / wide <= most) ?? 5 * decade;
  const ticks: number[] = [];
  for (let nth = 0; nth * step <= topMmS; nth += 1) ticks.push(Number((nth * step).toPrecision(9)));
  return ticks;
}

/** The one that a person has to look at first: reached soonest, else rising, else one of which a trend is told. */
export function foremost(views: readonly AheadView[]): AheadView | undefined {
  const dated = views.filter(({ p50At }) => p50At !== undefined).toSorted((a, b) => (a.p50At ?? 0) - (b.p50At ?? 0));
  const first = (wanted: (view: AheadView) => boolean): AheadView | undefined => views.find(wanted);
  return dated[0] ?? first(({ trend }) => trend === 'rising') ?? first(({ trend }) => trend !== 'too-few') ?? views[0];
}
