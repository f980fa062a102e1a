// What the picture of an envelope calls its floor is what the analysis calls so; beyond its band's width there is nothing.
import { expect, test } from 'vitest';
import { envelopeRow } from '../../../dashboard/vibration/envelope-row.ts';
import { analyseWindow, envelopeSpectrumOf } from '../../../shared/vibration/index.ts';
import { gaussianRow } from '../../shared/vibration/rows.ts';

const RATE_HZ = 20_000;
const SAMPLES = 40_000;
const BAND_HZ = [4000, 5000] as const;
const SHAFT_HZ = 30;
/** Noise over a shaft's line. */
const samples = gaussianRow(SAMPLES, 5).map((x, n) => x + Math.sin((2 * Math.PI * SHAFT_HZ * n) / RATE_HZ));

test.each([
  ['a speed that is told', 60 * SHAFT_HZ],
  ['none', undefined],
])('the floor with %s', (_, speedRpm) => {
  const told = speedRpm === undefined ? {} : { speedRpm };
  const window = { accelerationMS2: samples, sampleRateHz: RATE_HZ, ...told };
  const { envelope, speedRpm: turns } = analyseWindow(window, { envelopeBandHz: BAND_HZ });
  const spectrum = envelopeSpectrumOf(samples, RATE_HZ, BAND_HZ);
  const { rms, floor } = envelopeRow({ bandHz: BAND_HZ, spectrum }, turns === undefined ? undefined : turns / 60);
  expect(Math.SQRT2 * floor).toBeCloseTo(envelope?.floorMS2 ?? 0, 6);
  expect(rms).toHaveLength(1000 / spectrum.stepHz + 1);
  expect(rms[0]).toBe(0);
});
