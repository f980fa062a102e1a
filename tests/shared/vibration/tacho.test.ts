// The shaft's turning from marks: even, drifting, one missing, one too many, jitter; and samples brought to equal angles.
import { describe, expect, it } from 'vitest';
import { spectrumOf } from '../../../shared/vibration/index.ts';
import { resampledToAngle } from '../../../shared/vibration/order-tracking.ts';
import { tachoTurning } from '../../../shared/vibration/tacho.ts';
import { generator } from './rows.ts';

const SHAFT_HZ = 120;

function even(count: number, firstS = 0.002): number[] {
  return Array.from({ length: count }, (_, k) => firstS + k / SHAFT_HZ);
}

describe('marks', () => {
  it('at even distances are an even speed', () => {
    const turning = tachoTurning(even(100));
    expect(turning?.shaftHz).toBeCloseTo(SHAFT_HZ, 9);
    expect(turning?.even).toBe(true);
    expect(turning?.spreadPercent).toBeCloseTo(0, 9);
    // A mark stands there, or a whole number of turns away.
    const turnsOff = ((turning?.markS ?? 0) - 0.002) * SHAFT_HZ;
    expect(turnsOff).toBeCloseTo(Math.round(turnsOff), 9);
  });

  it('of which one is missing are two turns there', () => {
    const marks = even(100).filter((_, k) => k !== 40);
    const turning = tachoTurning(marks);
    expect(turning?.shaftHz).toBeCloseTo(SHAFT_HZ, 9);
    expect(turning?.turns.at(-1)).toBe(99);
    expect(turning?.even).toBe(true);
  });

  it('of which one came twice are counted once', () => {
    const marks = even(100).toSpliced(41, 0, 0.002 + 40 / SHAFT_HZ + 1e-4);
    const turning = tachoTurning(marks);
    expect(turning?.turns.at(-1)).toBe(99);
    expect(turning?.shaftHz).toBeCloseTo(SHAFT_HZ, 9);
  });

  it('that jitter by a thousandth of a turn are an even speed', () => {
    const next = generator(4);
    const turning = tachoTurning(even(120).map((s) => s + (0.002 * (next() - 0.5)) / SHAFT_HZ));
    expect(turning?.even).toBe(true);
    expect(turning?.shaftHz).toBeCloseTo(SHAFT_HZ, 2);
    expect(turning?.spreadPercent).toBeLessThan(0.05);
  });

  it('of a speed that rises by four percent are two percent off its mean at both ends', () => {
    const drift = 0.04;
    const marks = Array.from({ length: 122 }, (_, k) => (Math.sqrt(1 + (2 * drift * k) / SHAFT_HZ) - 1) / drift);
    const turning = tachoTurning(marks);
    expect(turning?.even).toBe(false);
    expect(turning?.spreadPercent).toBeGreaterThan(1.7);
    expect(turning?.spreadPercent).toBeLessThan(2.1);
  });

  it('say nothing where they are few or do not rise', () => {
    expect(tachoTurning([0, 0.01, 0.02])).toBeUndefined();
    expect(tachoTurning([0, 0, 0, 0, 0])).toBeUndefined();
    expect(tachoTurning([])).toBeUndefined();
    expect(tachoTurning(even(4))?.spreadPercent).toBeUndefined();
  });
});

describe('samples at equal angles', () => {
  const RATE_HZ = 12_800;
  const drift = 0.1;
  const turnsAt = (s: number): number => SHAFT_HZ * (s + (drift * s * s) / 2);
  const sweep = Float64Array.from({ length: RATE_HZ }, (_, n) => Math.cos(2 * Math.PI * 3 * turnsAt(n / RATE_HZ)));
  const marks = Array.from({ length: 125 }, (_, k) => (Math.sqrt(1 + (2 * drift * k) / SHAFT_HZ) - 1) / drift);

  it('make of a sweep of ten percent the one line of its order, which equal times smear', () => {
    const turning = tachoTurning(marks)!;
    const { samples, pointsPerTurn } = resampledToAngle(sweep, RATE_HZ, turning);
    expect(pointsPerTurn % 4).toBe(0);
    // Whole turns, so that the order stands on a line.
    const turns = samples.length / pointsPerTurn;
    const { amplitude } = spectrumOf(samples, pointsPerTurn, { quantity: 'acceleration', window: 'rectangular' });
    // The cubic between samples loses half a percent at a tenth of the rate; this is at a thirty-fifth.
    expect(amplitude[3 * turns]).toBeCloseTo(1, 2);
    const smeared = spectrumOf(sweep, RATE_HZ, { quantity: 'acceleration', window: 'rectangular' });
    expect(Math.max(...smeared.amplitude)).toBeLessThan(0.35);
  });

  it('lie between the marks inside the row', () => {
    const late = marks.map((s) => s - 0.1).filter((s) => s < 1.2);
    const { samples, pointsPerTurn } = resampledToAngle(sweep, RATE_HZ, tachoTurning(late)!);
    const inside = late.filter((s) => s >= 0 && s <= (RATE_HZ - 1) / RATE_HZ).length;
    expect(samples.length).toBe((inside - 1) * pointsPerTurn);
  });
});
