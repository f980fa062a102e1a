// Looking ahead in words: never one day alone, and what is taken back says so.
import { expect, test } from 'vitest';
import { aheadToldWords, datesWords } from '../../shared/ahead-words.ts';

const AHEAD = {
  at: Date.UTC(2031, 1, 1),
  speedBin: 19_000,
  speedRpm: 18_000,
  quantity: 'synchronous',
  levelMmS: 1.2,
  limitMmS: 1.8,
  source: 'invented maker; entered by Ada-Invented',
} as const;
const [EARLY, LIKELY, LATE] = [Date.UTC(2031, 1, 20), Date.UTC(2031, 2, 4), Date.UTC(2031, 3, 1)];

test('a day stands between the days around it', () => {
  expect(aheadToldWords({ ...AHEAD, p10At: EARLY, p50At: LIKELY, p90At: LATE })).toBe(
    'if its 1× vibration goes on as it does, it reaches 1.8 mm/s about 2031-03-04, with 80 % between 2031-02-20 and 2031-04-01',
  );
});

test('where the last day is not told, that is said', () => {
  expect(datesWords({ p10At: EARLY, p50At: LIKELY })).toBe(
    'about 2031-03-04, with 90 % not before 2031-02-20; it may as well take longer than can be told',
  );
});

test('without a day there are no dates, and what was said is taken back', () => {
  expect(datesWords({})).toBeUndefined();
  expect(aheadToldWords(AHEAD)).toBe('its 1× vibration is no longer on the way to 1.8 mm/s, as far as its days tell');
});
