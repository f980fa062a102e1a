import { expect, test } from 'vitest';
import { NO_MESSAGE, waveMessage, windowOf } from '../../../dashboard/vibration/wave-message.ts';

test('what a window’s message says of it', () => {
  const data = {
    channel: 'x',
    tachoS: [0.001, 0.006],
    fullScaleMS2: 490,
    speedRpm: 12_000,
    cutting: false,
    asked: 'ask-7',
  };
  expect(waveMessage({ entry: { kind: 'wave', data }, outcomes: [] })).toEqual({
    tachoS: [0.001, 0.006],
    fullScaleMS2: 490,
    speedRpm: 12_000,
    cutting: false,
    gravityShare: undefined,
  });
});

test.each([undefined, null, 'text', {}, { entry: 4 }, { entry: { data: { tachoS: 'x', speedRpm: 'fast' } } }])(
  '%j says nothing of it',
  (told) => expect(waveMessage(told)).toEqual(NO_MESSAGE),
);

test('the speed of the message comes before any other', () => {
  const samples = { accelerationMS2: new Float64Array(4), sampleRateHz: 1000 };
  const told = waveMessage({ entry: { data: { speedRpm: 12_000, tachoS: [0.1], cutting: true } } });
  expect(windowOf(told, samples, 18_000)).toEqual({ ...samples, speedRpm: 12_000, tachoS: [0.1], cutting: true });
  expect(windowOf(NO_MESSAGE, samples, 18_000)).toEqual({ ...samples, speedRpm: 18_000 });
  expect(windowOf(NO_MESSAGE, samples, undefined)).toEqual(samples);
});
