// A speed that no line of the samples can have is told as it came, and is not looked for where there is nothing.
import { expect, test } from 'vitest';
import { analyseWindow } from '../../../shared/vibration/index.ts';
import { noiseOf } from '../recorded-file/written-file.ts';

const WITHIN_MS = 5000;

test(
  'a thousand million times beyond',
  () => {
    const window = { accelerationMS2: noiseOf(200), sampleRateHz: 10, speedRpm: 1e12 };
    expect(analyseWindow(window, { teeth: 4 })).toMatchObject({ speedFrom: 'told', orders: [] });
  },
  WITHIN_MS,
);
