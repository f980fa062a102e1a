// What is said of a signal is said in English where it is reckoned, and told again where it is read: each sentence whole.
import { afterEach, expect, test } from 'vitest';
import { ENGLISH, retell, speak } from '../../../shared/language/index.ts';
import type { VibrationWindow } from '../../../shared/vibration/index.ts';
import { saidTexts } from '../language/said-texts.ts';
import { ALL, REAL, said, withSamples } from '../../shared/vibration/measured-rows.ts';
import * as plant from '../../shared/vibration/planted-faults.ts';

/** A language that says the same in guillemets: what no text fits stands without. */
const texts = Object.fromEntries(saidTexts(['shared/vibration']).map(({ key }) => [key, `«${key}»`]));
const WHOLE = /^«(?!.*\.» «).*»$/s;

afterEach(() => speak(ENGLISH));

const [{ window: real }] = REAL as [(typeof REAL)[number]];
const everyFifth = ALL.filter((_, n) => n % 5 === 0).map(({ window }) => window);
const marks = Array.from({ length: 20 }, (_, turn) => turn / 30);

const planted = (how: plant.Plant): readonly VibrationWindow[] => everyFifth.map((one) => withSamples(how)(one, 1));

test.each<[string, readonly VibrationWindow[], Parameters<typeof said>[1]?]>([
  ['a flat line', planted(plant.flat)],
  ['peaks cut off', planted(plant.clippedAt(1.5))],
  ['peaks pressed together', planted(plant.pressedAt(1))],
  ['lost samples', planted(plant.heldFor([300, 300], true))],
  ['a block sent twice', planted(plant.repeatedBlockOf(512))],
  ['a bias', planted(plant.shiftedBy(20)).map((one) => ({ ...one, fullScaleMS2: 60 }))],
  ['a drift', planted(plant.driftingBy(2))],
  ['a scale against earlier windows', planted(plant.scaledBy(9.81)), { usualRmsMS2: 4 }],
  ['a scale that no machine has', planted(plant.scaledBy(1e4))],
  ['a sensor on its mount', planted(plant.onMountAt(0.13, 15))],
  ['an unsteady speed', planted(plant.unsteadyBy(0.03))],
  ['a wrong speed', everyFifth.map((one) => ({ ...one, speedRpm: 1.4 * (one.speedRpm ?? 1000) }))],
  ['standstill that is none', everyFifth.map((one) => ({ ...one, speedRpm: 0 }))],
  [
    'gravity on the wrong side',
    [{ ...real, gravityShare: -1, accelerationMS2: plant.shiftedBy(9.8)(real.accelerationMS2, 1) }],
  ],
  ['marks of a tacho that are missing', [{ ...real, tachoS: marks.filter((_, turn) => turn % 7 !== 3) }]],
  ['marks of a tacho in another unit', [{ ...real, tachoS: marks.map((at) => at * 1000) }]],
  ['a single mark of a tacho', [{ ...real, tachoS: [0.1] }]],
])('%s', (_, windows, settings) => {
  const words = windows.flatMap((one) => said(one, settings).map((finding) => finding.words));
  expect(words.length).toBeGreaterThan(0);
  speak({ ...ENGLISH, tag: 'guillemets', texts });
  expect(words.map(retell).filter((told) => !WHOLE.test(told))).toEqual([]);
});
