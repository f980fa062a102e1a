import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import {
  bandEdges,
  columnAt,
  depthOf,
  holesOf,
  octaveTicks,
  shadeOf,
  shareOf,
  speedChanges,
  stretchesOf,
  strongestBand,
  thinned,
  totalOf,
  valueOf,
  type Colour,
} from '../../../dashboard/vibration/history-shape.ts';

const HOUR = 3_600_000;
const column = (hour: number, speedRpm?: number, velocityMmS: (number | null)[] = [0.1, 3, 4]) => ({
  waveId: hour,
  at: hour * HOUR,
  velocityMmS,
  ...(speedRpm === undefined ? {} : { speedRpm }),
});
const view = (columns: ReturnType<typeof column>[]) => ({
  from: 0,
  to: 24 * HOUR,
  lowestHz: 10,
  bandsPerOctave: 3,
  bands: 3,
  columns,
});

describe('which window stands for which time', () => {
  test('until the next one, not across a gap, and the gap is known', () => {
    const shown = view([1, 2, 3, 4, 5, 14, 15].map((hour) => column(hour)));
    const stretches = stretchesOf(shown);
    expect(stretches.map(({ from, to }) => [from / HOUR, to / HOUR])).toEqual([
      [1, 2],
      [2, 3],
      [3, 4],
      [4, 5],
      [5, 6],
      [14, 15],
      [15, 16],
    ]);
    expect(holesOf(shown, stretches).map(({ from, to }) => [from / HOUR, to / HOUR])).toEqual([
      [0, 1],
      [6, 14],
      [16, 24],
    ]);
  });

  test('what is a gap depends on how far apart windows lie just there', () => {
    const hourly = [1, 2, 3, 4, 5, 6, 7, 8];
    const eachMinute = Array.from({ length: 30 }, (_, minute) => 9 + minute / 60);
    const shown = view([...hourly, ...eachMinute, 12].map((hour) => column(hour)));
    const holes = holesOf(shown, stretchesOf(shown));
    expect(holes.map(({ from, to }) => [from / HOUR, Number((to / HOUR).toFixed(2))])).toEqual([
      [0, 1],
      [expect.closeTo(9.5, 2), 12],
      [expect.closeTo(12.02, 2), 24],
    ]);
  });

  test('one alone stands for a part that can be seen', () => {
    expect(stretchesOf(view([column(4)]))).toEqual([{ from: 4 * HOUR, to: 5 * HOUR }]);
  });

  test('pointing at an instant means the window that stands for it, in a gap the nearest', () => {
    const shown = view([1, 2, 3, 14].map((hour) => column(hour)));
    const at = (hour: number) => columnAt(shown.columns, stretchesOf(shown), hour * HOUR);
    expect([at(0), at(2.9), at(5), at(12), at(23)]).toEqual([0, 1, 2, 3, 3]);
    expect(columnAt([], [], 5)).toBeUndefined();
  });

  test('none at all is one hole', () => {
    const shown = view([]);
    expect(holesOf(shown, stretchesOf(shown))).toEqual([{ from: 0, to: 24 * HOUR }]);
  });
});

test('a speed is ticked where it becomes another one', () => {
  const speeds = [12_000, 12_100, undefined, 18_000, 17_900, 12_000];
  const found = speedChanges(speeds.map((speed, hour) => column(hour, speed)));
  expect(found.map(({ at }) => at / HOUR)).toEqual([0, 3, 5]);
});

test('how dark: on a log scale over a factor of a thousand, and back', () => {
  const depth = depthOf([column(0), column(1, undefined, [null, 10, 0.2])]);
  expect(depth).toEqual({ least: 0.01, greatest: 10, beyond: false });
  expect([shareOf(10, depth), shareOf(0.01, depth), shareOf(0, depth)]).toEqual([1, 0, 0]);
  expect(shareOf(0.1, depth)).toBeCloseTo(1 / 3, 10);
  expect(valueOf(1 / 3, depth)).toBeCloseTo(0.1, 10);
  expect(shareOf(1, depthOf([]))).toBe(0);
});

test('a window in absurd units does not take the shades from the others; a rest does not make running absurd', () => {
  const usual = Array.from({ length: 12 }, (_, at) => column(at, undefined, [0.1, 1]));
  expect(depthOf([...usual, column(12, undefined, [1e37, 1e38])])).toMatchObject({ greatest: 1, beyond: true });
  expect(shareOf(1e38, depthOf([...usual, column(12, undefined, [1e38])]))).toBe(1);
  const resting = Array.from({ length: 20 }, (_, at) => column(20 + at, undefined, [0.002]));
  expect(depthOf([...usual, ...resting])).toMatchObject({ greatest: 1, beyond: false });
});

test('bands are parts of an octave; their squares add up', () => {
  const [from, to] = bandEdges({ lowestHz: 10, bandsPerOctave: 3 }, 3);
  expect(from).toBeCloseTo(20, 9);
  expect(to).toBeCloseTo(25.198, 3);
  expect(totalOf(column(0, undefined, [3, null, 4]))).toBe(5);
  expect(strongestBand(column(0, undefined, [3, null, 4]))).toBe(2);
  expect(strongestBand(column(0, undefined, [null, 0]))).toBeUndefined();
});

test('frequencies on the axis are those that people know', () => {
  expect(octaveTicks(8, 1200)).toEqual([10, 20, 50, 100, 200, 500, 1000]);
});

test('a thinned list keeps its ends', () => {
  expect(thinned([1, 2, 3, 4, 5, 6, 7, 8, 9], 3)).toEqual([1, 5, 9]);
  expect(thinned([1, 2], 3)).toEqual([1, 2]);
});

describe('the palette', () => {
  const css = readFileSync(fileURLToPath(new URL('../../../dashboard/tokens.css', import.meta.url)), 'utf8');
  const [usual = '', contrast = ''] = css.split(':root[data-contrast] {');
  const stops = (theme: 1 | 2, from = usual): Colour[] =>
    [...from.matchAll(/--level-\d: light-dark\(#(\w{6}), #(\w{6})\)/g)].map((match) => {
      const hex = Number.parseInt(match[theme] ?? '', 16);
      return { r: hex >> 16, g: (hex >> 8) & 255, b: hex & 255 };
    });
  /** Relative luminance as WCAG 2.2 defines it. */
  const luminance = ({ r, g, b }: Colour): number => {
    const [lr = 0, lg = 0, lb = 0] = [r, g, b].map((value) => {
      const share = value / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * lr + 0.7152 * lg + 0.0722 * lb;
  };

  test.each([
    ['light', 1, -1, usual],
    ['dark', 2, 1, usual],
    ['light, high contrast', 1, -1, contrast],
    ['dark, high contrast', 2, 1, contrast],
  ] as const)('%s: five stops, evenly on to one side, so that it reads without colour', (_, theme, side, from) => {
    const all = Array.from({ length: 33 }, (__, i) => luminance(shadeOf(i / 32, stops(theme, from))));
    expect(stops(theme, from)).toHaveLength(5);
    for (let i = 1; i < all.length; i += 1) expect((all[i]! - all[i - 1]!) * side).toBeGreaterThan(0);
    // WCAG 1.4.11: what means something differs from what means nothing by 3 to 1 at least.
    const [first = 0, last = 0] = [all[0], all.at(-1)];
    expect((Math.max(first, last) + 0.05) / (Math.min(first, last) + 0.05)).toBeGreaterThan(7);
  });
});
