import { expect, test } from 'vitest';
import { lineWords } from '../../../dashboard/vibration/vibration-words.ts';
import { familyOf, frequencyMarks } from '../../../dashboard/vibration/frequency-marks.ts';
import { medianOf, standsOut, strongestLines, whatMayBe } from '../../../dashboard/vibration/strongest-lines.ts';

const finding = { foundHz: 90, indicator: 12, harmonics: 2, sidebands: 0 };
/** 1,800 rpm: 30 Hz; a 3.048× outer race and a 4.95× inner race, published multiples of a 6205 with nine balls rounded. */
const marks = frequencyMarks({
  speedRpm: 1800,
  teeth: 4,
  analysis: {
    speedRpm: 1800,
    bearings: [
      { bearing: 'front', part: 'outer', expectedHz: 91.44, speaks: true, ...finding },
      { bearing: 'front', part: 'inner', expectedHz: 148.5, speaks: false, ...finding },
      { bearing: 'front', part: 'cage', expectedHz: 11.4, speaks: false, ...finding },
      { bearing: 'front', part: 'rolling', expectedHz: 119.4, speaks: false, ...finding },
    ],
  },
});

test('orders, tooth passing and bearing lines have a name and their place', () => {
  expect(marks.map(({ word, hz }) => [word, Number(hz.toFixed(2))])).toEqual([
    ['front cage', 11.4],
    ['1×', 30],
    ['2×', 60],
    ['3×', 90],
    ['front outer', 91.44],
    ['front rolling', 119.4],
    ['z× (4)', 120],
    ['front inner', 148.5],
  ]);
  expect(marks.find(({ shape }) => shape === 'outer')).toMatchObject({ speaks: true, fromHz: 91.44 * 0.98 });
});

test('without a speed nothing has a name', () => {
  expect(frequencyMarks({ teeth: 4 })).toEqual([]);
  expect(frequencyMarks({ speedRpm: 0 })).toEqual([]);
});

test('an inner race has sidebands one turn of the shaft apart, a rolling element of the cage, an outer race none', () => {
  const of = (shape: string): number[] =>
    familyOf(
      marks.find((mark) => mark.shape === shape)!,
      marks,
      30,
      2,
    ).map(({ hz }) => Number(hz.toFixed(2)));
  expect(of('inner')).toEqual([118.5, 178.5, 297, 267, 327]);
  expect(of('rolling')).toEqual([108, 130.8, 238.8, 227.4, 250.2]);
  expect(of('outer')).toEqual([182.88]);
});

test('the strongest lines come first, each lobe once, with all that they may be', () => {
  const values = new Float64Array(1000).fill(0.01);
  // 0.5 Hz a line. A Hann window spreads a line over its neighbours.
  const put = (index: number, value: number): void => {
    values[index] = value;
    values[index - 1] = value / 2;
    values[index + 1] = value / 2;
  };
  put(60, 2);
  put(183, 1);
  put(401, 0.5);
  const lines = strongestLines({ values, first: 0, step: 0.5 }, marks, 30, 12);
  expect(lines.map(({ hz, value, mayBe }) => [hz, value, mayBe])).toEqual([
    [30, 2, ['1× of the shaft']],
    [91.5, 1, ['outer race of the bearing front']],
    [200.5, 0.5, []],
  ]);
  expect(lines[2]?.order).toBeCloseTo(6.683, 3);
});

test('where an order and a bearing line share a place, both are told', () => {
  expect(whatMayBe(90.1, 0.5, marks, 30)).toEqual(['3× of the shaft', 'outer race of the bearing front']);
  expect(whatMayBe(150, 0.5, marks, 30)).toEqual(['5× of the shaft', 'inner race of the bearing front']);
});

test('harmonics of what speaks are named from where it was found, those of what does not speak are not', () => {
  const speaking = frequencyMarks({
    analysis: {
      speedRpm: 1800,
      bearings: [
        { bearing: 'front', part: 'outer', expectedHz: 91.44, speaks: true, ...finding, foundHz: 91.1 },
        { bearing: 'front', part: 'inner', expectedHz: 148.5, speaks: false, ...finding, foundHz: 148.4 },
      ],
    },
  });
  expect(whatMayBe(546.5, 0.5, speaking, 30)).toEqual(['harmonic 6 of the outer race of the bearing front']);
  expect(whatMayBe(549, 0.5, speaking, 30)).toEqual([]);
  expect(whatMayBe(296.8, 0.5, speaking, 30)).toEqual([]);
});

test('harmonics that lie so close that any line were one of them are not named', () => {
  const cage = frequencyMarks({
    analysis: {
      speedRpm: 1800,
      bearings: [{ bearing: 'front', part: 'cage', expectedHz: 11.4, speaks: true, ...finding, foundHz: 11.3 }],
    },
  });
  expect(whatMayBe(22.6, 0.5, cage, 31)).toEqual(['harmonic 2 of the cage of the bearing front']);
  expect(whatMayBe(101.7, 0.5, cage, 31)).toEqual([]);
});

test('a harmonic is named once, though its family is shown too', () => {
  const head = { ...marks.find(({ shape }) => shape === 'outer')!, foundHz: 91.1 };
  const shown = [head, ...familyOf(head, [], 30, 3)];
  expect(whatMayBe(182.2, 0.5, shown, 31)).toEqual(['harmonic 2 of the outer race of the bearing front']);
});

test('nothing stands out of noise that is level', () => {
  const values = Float64Array.from({ length: 500 }, (_, i) => 1 + Math.sin(i * 1.7) / 2);
  expect(strongestLines({ values, first: 0, step: 1 }, marks, 30, 12)).toEqual([]);
});

test('the median of an even count lies between the middle two', () => {
  expect(medianOf(Float64Array.of(4, 1, 3, 2))).toBe(2.5);
  expect(medianOf(Float64Array.of(9, 1, 5))).toBe(5);
});

test('at a named place where no line stands out it is said that none does', () => {
  const at = (stands: boolean) => lineWords({ hz: 91.4, stepHz: 0.5, stands }, marks, 30);
  expect(at(true).from).toMatch(/^: may be .*outer race/);
  expect(at(false).from).toMatch(/^: no line; here would be .*outer race/);
  expect(at(true).place).toBe('91.4 Hz, 3.05× of the shaft');
  expect([standsOut(4.1, 1), standsOut(4, 1), standsOut(0, 0)]).toEqual([true, false, false]);
});
