// The shaft's frequency from an envelope: its own orders are found, rows of other lines beside them are not taken for it.
import { describe, expect, test } from 'vitest';
import { envelopeFloor } from '../../../shared/vibration/bearing-lines.ts';
import { shaftInEnvelope } from '../../../shared/vibration/envelope-shaft.ts';
import { envelopeSpectrumOf } from '../../../shared/vibration/envelope.ts';
import { gaussianRow } from './rows.ts';

const RATE_HZ = 20_000;
const SIZE = 40_000;

function spectrumWith(lines: readonly (readonly [number, number])[], seed = 1) {
  const noise = gaussianRow(SIZE, seed);
  const row = noise.map((sample, n) => {
    const modulation = lines.reduce(
      (sum, [hz, height]) => sum + height * Math.cos((2 * Math.PI * hz * n) / RATE_HZ),
      0,
    );
    return 0.1 * sample + (1 + modulation) * Math.cos((2 * Math.PI * 3000 * n) / RATE_HZ);
  });
  return envelopeSpectrumOf(row, RATE_HZ, [2000, 4000]);
}
function found(lines: readonly (readonly [number, number])[], given: number, seed = 1): number {
  const spectrum = spectrumWith(lines, seed);
  return shaftInEnvelope(spectrum, given, envelopeFloor(spectrum, given), 0.015);
}

describe('the shaft in an envelope', () => {
  test.each([29.7, 30.0, 30.11, 30.4])('is found from a percent off: %f Hz', (given) => {
    expect(Math.abs(found([[30.11, 0.1]], given) - 30.11)).toBeLessThan(0.05);
    expect(Math.abs(found([[60.22, 0.1]], given) - 30.11)).toBeLessThan(0.03);
    expect(
      Math.abs(
        found(
          [
            [30.11, 0.05],
            [60.22, 0.2],
          ],
          given,
        ) - 30.11,
      ),
    ).toBeLessThan(0.03);
  });

  test('is not drawn to a row of lines five hundredths of an order off every order', () => {
    const rows = [0.95, 1.95, 2.95, 3.95, 4.95].map((order) => [30 * order, 0.2] as const);
    expect(Math.abs(found([...rows, [60, 0.08]], 30.2) - 30)).toBeLessThan(0.05);
  });

  test('stays as it was given where none of its orders stands: 50 seeds of noise', () => {
    for (let seed = 1; seed <= 50; seed += 1) expect(found([], 30.2, seed)).toBe(30.2);
  });
});
