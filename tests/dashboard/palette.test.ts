// The colours of dashboard/tokens.css, in every theme: readable on what they stand on, and told apart in four kinds of vision.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

const SHEET = readFileSync(new URL('../../dashboard/tokens.css', import.meta.url), 'utf8');
type Linear = readonly [number, number, number];

function tokensIn(selector: string): ReadonlyMap<string, readonly [light: string, dark: string]> {
  const from = SHEET.indexOf(`${selector} {`);
  const block = SHEET.slice(from, SHEET.indexOf('}', from));
  const found = block.matchAll(/--([\w-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/g);
  return new Map([...found].map(([, name = '', light = '', dark = '']) => [name, [light, dark]]));
}

const USUAL = tokensIn(':root');
const CONTRAST = tokensIn(':root[data-contrast]');
const MARKS = ['slate', 'ochre', 'plum', 'cobalt'] as const;
/** The darkest grounds for text count: text stands on the page and on sheets. */
const GROUNDS = ['ground', 'sheet'] as const;

const THEMES = [
  { theme: 'light', tokens: USUAL, side: 0, text: 4.5, marks: 4.5 },
  { theme: 'dark', tokens: USUAL, side: 1, text: 4.5, marks: 4.5 },
  { theme: 'high contrast, light', tokens: CONTRAST, side: 0, text: 7, marks: 4.5 },
  { theme: 'high contrast, dark', tokens: CONTRAST, side: 1, text: 7, marks: 4.5 },
] as const;

/** IEC 61966-2-1, sRGB. */
const linear = (hex: string): Linear => {
  const channel = (at: number): number => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return [channel(1), channel(3), channel(5)];
};

/** Relative luminance and contrast ratio as WCAG 2.2 defines them. */
const luminance = ([r, g, b]: Linear): number => 0.2126 * r + 0.7152 * g + 0.0722 * b;
const contrast = (a: string, b: string): number => {
  const [low = 0, high = 0] = [a, b].map((hex) => luminance(linear(hex))).sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
};

/** Machado, Oliveira and Fernandes, "A physiologically-based model for simulation of color vision deficiency", 2009, severity 1.0. */
const VISIONS: Readonly<Record<string, readonly [Linear, Linear, Linear]>> = {
  'usual vision': [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

const dot = (a: Linear, b: Linear): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const seen = (colour: Linear, rows: readonly [Linear, Linear, Linear]): Linear => {
  const [r, g, b] = rows.map((row) => Math.min(1, Math.max(0, dot(row, colour))));
  return [r ?? 0, g ?? 0, b ?? 0];
};

/** Ottosson, "A perceptual color space for image processing", 2020. */
function oklab(colour: Linear): Linear {
  const root = (row: Linear): number => Math.cbrt(dot(row, colour));
  const cone: Linear = [
    root([0.4122214708, 0.5363325363, 0.0514459929]),
    root([0.2119034982, 0.6806995451, 0.1073969566]),
    root([0.0883024619, 0.2817188376, 0.6299787005]),
  ];
  return [
    dot([0.2104542553, 0.793617785, -0.0040720468], cone),
    dot([1.9779984951, -2.428592205, 0.4505937099], cone),
    dot([0.0259040371, 0.7827717662, -0.808675766], cone),
  ];
}

const APART_LEAST = 0.12;

describe.each(THEMES)('$theme', ({ tokens, side, text, marks }) => {
  const of = (name: string): string => tokens.get(name)?.[side] ?? '';

  test('has every colour', () => {
    expect([...GROUNDS, 'ink', ...MARKS].map(of).filter((hex) => hex === '')).toEqual([]);
  });

  test.each(GROUNDS)('text and marks are readable on the %s', (ground) => {
    const told = (name: string): number => contrast(of(name), of(ground));
    // Words are written in ink and slate, and in each colour beside its mark.
    expect(Math.min(...['ink', ...MARKS].map(told))).toBeGreaterThanOrEqual(text);
    expect(Math.min(...MARKS.map(told))).toBeGreaterThanOrEqual(marks);
  });

  test.each(Object.entries(VISIONS))('no two marks look alike: %s', (_vision, rows) => {
    const colours = MARKS.map((name) => oklab(seen(linear(of(name)), rows)));
    const apart = colours.flatMap((a, i) =>
      colours.slice(i + 1).map((b) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])),
    );
    expect(Math.min(...apart)).toBeGreaterThanOrEqual(APART_LEAST);
  });

  test('levels go one way, from the ground on', () => {
    const levels = [0, 1, 2, 3, 4].map((level) => contrast(of(`level-${level}`), of('ground')));
    expect(levels).toEqual(levels.toSorted((a, b) => a - b));
  });
});

test('black and white, and one and the same, have the contrasts that WCAG 2.2 names', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  expect(contrast('#616e77', '#616e77')).toBe(1);
});
