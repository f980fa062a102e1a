// What is said of a window whose contents are known: sines of given velocity and phase in noise, told, marked or untold.
import { describe, expect, it } from 'vitest';
import { analyseWindow, type VibrationWindow } from '../../../shared/vibration/index.ts';
import { WaveAnalysis } from '../../../shared/wave-analysis.ts';
import { gaussianRow, sineRow } from './rows.ts';

const RATE_HZ = 25_600;
const SAMPLES = 25_600;
const SHAFT_HZ = 151.3;

/** Within half a turn a minute: at this noise the Cramér–Rao bound of the speed is 0.1 (1 mm/s) and 0.3 rpm (0.4 mm/s). */
const SPEED_DIGITS = 0;

/** RMS acceleration in m/s² of an RMS velocity in mm/s: a = ω·v. */
function accelerationOf(velocityMmS: number, hz: number): number {
  return (velocityMmS * 2 * Math.PI * hz) / 1e3;
}

interface Part {
  readonly order: number;
  readonly velocityMmS: number;
  readonly phaseDeg?: number;
}

const UNBALANCE: readonly Part[] = [
  { order: 1, velocityMmS: 1, phaseDeg: 30 },
  { order: 2, velocityMmS: 0.3, phaseDeg: 200 },
  { order: 5, velocityMmS: 2 },
];

function windowOf(parts: readonly Part[], noiseMS2: number, more: Partial<VibrationWindow> = {}): VibrationWindow {
  const noise = gaussianRow(SAMPLES, 3);
  const sines = parts.map(({ order, velocityMmS, phaseDeg = 0 }) => {
    const hz = order * SHAFT_HZ;
    return { rms: accelerationOf(velocityMmS, hz), hz, phaseDeg };
  });
  const clean = sineRow(SAMPLES, RATE_HZ, sines);
  return { accelerationMS2: clean.map((x, n) => x + noiseMS2 * noise[n]!), sampleRateHz: RATE_HZ, ...more };
}

/** Marks from `firstS` on, one a turn, over one second. */
function marksFrom(firstS: number): number[] {
  return Array.from({ length: 200 }, (_, k) => firstS + k / SHAFT_HZ).filter((it) => it < SAMPLES / RATE_HZ);
}

function orderOf(analysis: WaveAnalysis, order: number): { velocityMmS: number; phaseDeg?: number | undefined } {
  const found = analysis.orders.find((it) => it.order === order);
  if (found === undefined) throw new Error(`expected order ${order}`);
  return found;
}

describe('the band of the overall velocity holds the first order', () => {
  const turningAt = (rpm: number, velocityBandHz?: readonly [number, number]): WaveAnalysis => {
    const noise = gaussianRow(SAMPLES, 3);
    const sine = sineRow(SAMPLES, RATE_HZ, [{ rms: accelerationOf(2, rpm / 60), hz: rpm / 60, phaseDeg: 0 }]);
    const accelerationMS2 = sine.map((x, n) => x + 0.001 * noise[n]!);
    const window = { accelerationMS2, sampleRateHz: RATE_HZ, speedRpm: rpm };
    return analyseWindow(window, velocityBandHz === undefined ? {} : { velocityBandHz });
  };

  it.each([
    { rpm: 580, bandHz: [2, 1000] },
    // Two lines beside the first order stand for it too.
    { rpm: 602, bandHz: [2, 1000] },
    { rpm: 740, bandHz: [10, 1000] },
    { rpm: 54_000, bandHz: [10, 1000] },
    { rpm: 72_000, bandHz: [10, 5000] },
  ])('at $rpm rpm from $bandHz Hz', ({ rpm, bandHz }) => {
    const analysis = turningAt(rpm);
    expect(analysis.bandHz).toEqual(bandHz);
    expect(orderOf(analysis, 1).velocityMmS).toBeCloseTo(2, 1);
    expect(analysis.overallMmS).toBeGreaterThan(0.99 * orderOf(analysis, 1).velocityMmS);
  });

  it('unless a person gave one', () => {
    expect(turningAt(580, [10, 2000]).bandHz).toEqual([10, 2000]);
  });
});

it('a told speed that nothing makes better is told to the last digit', () => {
  for (const speedRpm of [8000, 10_397.4, 7])
    expect(analyseWindow(windowOf([], 1, { speedRpm }))).toMatchObject({ speedFrom: 'told', speedRpm });
});

describe('a window with marks', () => {
  const analysis = analyseWindow(windowOf(UNBALANCE, 0.5, { tachoS: marksFrom(0.003) }), { teeth: 5 });

  it('has the shape that is journalled', () => {
    expect(WaveAnalysis.parse(JSON.parse(JSON.stringify(analysis)))).toEqual(analysis);
  });

  it('has its speed from them', () => {
    expect(analysis.speedFrom).toBe('tacho');
    expect(analysis.speedRpm).toBeCloseTo(60 * SHAFT_HZ, 6);
    expect(analysis.speedSpreadPercent).toBeCloseTo(0, 6);
  });

  it('tells velocity and phase of the orders', () => {
    // The noise leaves 0.005 mm/s of 1×, 0.003 of 2×.
    expect(Math.abs(orderOf(analysis, 1).velocityMmS - 1)).toBeLessThan(0.015);
    expect(Math.abs(orderOf(analysis, 2).velocityMmS - 0.3)).toBeLessThan(0.008);
    expect(orderOf(analysis, 3).velocityMmS).toBeLessThan(0.005);
    // The acceleration's phase at the mark, less a quarter.
    expect(orderOf(analysis, 1).phaseDeg).toBeCloseTo(30 + 360 * 0.003 * SHAFT_HZ - 90, 0);
    expect(orderOf(analysis, 2).phaseDeg).toBeCloseTo((200 + 720 * 0.003 * SHAFT_HZ - 90) % 360, 0);
  });

  it('tells the tooth passing', () => {
    expect(analysis.toothPassing?.frequencyHz).toBeCloseTo(5 * SHAFT_HZ, 6);
    expect(analysis.toothPassing?.velocityMmS).toBeCloseTo(2, 2);
  });

  it('tells the overall velocity of the band: all three lines, and the noise between', () => {
    expect(analysis.bandHz).toEqual([10, 1000]);
    expect(analysis.overallMmS).toBeCloseTo(Math.hypot(1, 0.3, 2), 1);
  });

  it('keeps the power in the levels that the spectrum holds', () => {
    const levels = analysis.levels?.velocityMmS ?? [];
    expect(Math.hypot(...levels)).toBeCloseTo(Math.hypot(1, 0.3, 2), 1);
    const loudest = levels.indexOf(Math.max(...levels));
    expect(5 * 2 ** (loudest / 12)).toBeLessThan(5 * SHAFT_HZ);
    expect(5 * 2 ** ((loudest + 1) / 12)).toBeGreaterThan(5 * SHAFT_HZ);
  });
});

describe('the speed of a window', () => {
  it('that was told is taken from the line beside it', () => {
    const analysis = analyseWindow(windowOf(UNBALANCE, 0.5, { speedRpm: 60 * SHAFT_HZ * 1.012 }));
    expect(analysis.speedFrom).toBe('refined');
    expect(analysis.speedRpm).toBeCloseTo(60 * SHAFT_HZ, SPEED_DIGITS);
    expect(orderOf(analysis, 1).velocityMmS).toBeCloseTo(1, 2);
    expect(orderOf(analysis, 1).phaseDeg).toBeUndefined();
    expect(analysis.speedSpreadPercent).toBeLessThan(0.2);
  });

  it('that was told stays as it was told where no line is beside it', () => {
    const analysis = analyseWindow(windowOf(UNBALANCE, 0.5, { speedRpm: 6000 }));
    expect(analysis.speedFrom).toBe('told');
    expect(analysis.speedRpm).toBe(6000);
    expect(analysis.speedSpreadPercent).toBeUndefined();
  });

  it('that was told and stands in noise alone stays as it was told', () => {
    const analysis = analyseWindow(windowOf([], 1, { speedRpm: 9000 }));
    expect(analysis.speedFrom).toBe('told');
  });

  it('is not the highest line of a cut', () => {
    const cut: readonly Part[] = [
      { order: 1, velocityMmS: 0.4 },
      { order: 4, velocityMmS: 5 },
      { order: 8, velocityMmS: 3 },
    ];
    const told = analyseWindow(windowOf(cut, 0.5, { speedRpm: 60 * SHAFT_HZ * 0.99, cutting: true }), { teeth: 4 });
    expect(told.speedRpm).toBeCloseTo(60 * SHAFT_HZ, SPEED_DIGITS);
    expect(told.toothPassing?.velocityMmS).toBeCloseTo(5, 2);
    const untold = analyseWindow(windowOf(cut, 0.5, { cutting: true }));
    expect(untold.speedFrom).toBe('unknown');
    expect(untold.speedRpm).toBeUndefined();
    expect(untold.orders).toEqual([]);
  });

  it('that nobody told is a row of harmonics', () => {
    const row: readonly Part[] = [
      { order: 1, velocityMmS: 1 },
      { order: 2, velocityMmS: 0.3 },
      { order: 3, velocityMmS: 0.2 },
    ];
    const analysis = analyseWindow(windowOf(row, 0.5));
    expect(analysis.speedFrom).toBe('refined');
    expect(analysis.speedRpm).toBeCloseTo(60 * SHAFT_HZ, SPEED_DIGITS);
  });

  it('is unknown where a row is of every second or third harmonic of a shaft whose own line does not stand', () => {
    for (const part of [2, 3]) {
      const slow = [1.5, 2.5, 3.5].map((order): Part => ({ order: (order * 2) / part, velocityMmS: 0.15 }));
      const cut: readonly Part[] = [
        { order: 1, velocityMmS: 1 },
        { order: 2, velocityMmS: 2 },
        { order: 3, velocityMmS: 0.2 },
        { order: 4, velocityMmS: 0.5 },
        ...slow,
      ];
      expect(analyseWindow(windowOf(cut, 0.5)).speedFrom, `of every ${part}`).toBe('unknown');
    }
  });

  it('is unknown where a row is of every fifth harmonic of a shaft whose own line does not stand', () => {
    const slow = [2, 3, 4, 6].map((order): Part => ({ order: order / 5, velocityMmS: 0.15 }));
    const row = [1, 2, 3, 4].map((order): Part => ({ order, velocityMmS: 1 / order }));
    expect(analyseWindow(windowOf(row, 0.5)).speedFrom).toBe('refined');
    expect(analyseWindow(windowOf([...row, ...slow], 0.5)).speedFrom).toBe('unknown');
  });

  it('is not that of a weak slow line whose double lies next to the shaft', () => {
    const [rateHz, samples] = [20_000, 8192];
    const noise = gaussianRow(samples, 3);
    const clean = sineRow(samples, rateHz, [
      { rms: accelerationOf(14, 20), hz: 20, phaseDeg: 0 },
      { rms: accelerationOf(4, 11.3), hz: 11.3, phaseDeg: 0 },
    ]);
    const accelerationMS2 = clean.map((x, n) => x + 0.5 * noise[n]!);
    // Seen in a recording of a rotor bench at 1200 rpm: the slow line, with what it borrowed, was said to be the shaft.
    expect(analyseWindow({ accelerationMS2, sampleRateHz: rateHz, cutting: false }).speedFrom).toBe('unknown');
  });

  it('is not taken of a cut from a row whose first stands highest: equal teeth have the same', () => {
    const teeth = [1, 2, 3, 4].map((order): Part => ({ order, velocityMmS: 1 / order ** 2 }));
    expect(analyseWindow(windowOf(teeth, 0.5, { cutting: false })).speedFrom).toBe('refined');
    expect(analyseWindow(windowOf(teeth, 0.5, { cutting: true })).speedFrom).toBe('unknown');
    // The fourth stands highest: it is the teeth's, and the first the shaft's.
    const shafts = [...teeth.slice(0, 3), { order: 4, velocityMmS: 1 }];
    const found = analyseWindow(windowOf(shafts, 0.5, { cutting: true }));
    expect(found.speedFrom).toBe('refined');
    expect(found.speedRpm).toBeCloseTo(60 * SHAFT_HZ, SPEED_DIGITS);
  });

  it('that nobody told is a single line only of a spindle that does not cut', () => {
    const single: readonly Part[] = [{ order: 1, velocityMmS: 1 }];
    expect(analyseWindow(windowOf(single, 0.5)).speedFrom).toBe('unknown');
    const idle = analyseWindow(windowOf(single, 0.5, { cutting: false }));
    expect(idle.speedFrom).toBe('refined');
    expect(idle.speedRpm).toBeCloseTo(60 * SHAFT_HZ, SPEED_DIGITS);
  });

  it('is unknown in noise', () => {
    expect(analyseWindow(windowOf([], 1, { cutting: false })).speedFrom).toBe('unknown');
  });
});

describe('a speed that drifts by five percent', () => {
  const drift = 0.05;
  const noise = gaussianRow(SAMPLES, 9);
  const turnsAt = (s: number): number => SHAFT_HZ * (s + (drift * s * s) / 2);
  const accelerationMS2 = Float64Array.from({ length: SAMPLES }, (_, n) => {
    const s = n / RATE_HZ;
    const height = Math.SQRT2 * accelerationOf(1, SHAFT_HZ * (1 + drift * s));
    return height * Math.cos(2 * Math.PI * turnsAt(s) + Math.PI / 6) + 0.5 * noise[n]!;
  });
  const tachoS = Array.from({ length: 200 }, (_, k) => (Math.sqrt(1 + (2 * drift * k) / SHAFT_HZ) - 1) / drift).filter(
    (it) => it < SAMPLES / RATE_HZ,
  );

  it('is followed mark by mark', () => {
    const analysis = analyseWindow({ accelerationMS2, sampleRateHz: RATE_HZ, tachoS });
    expect(analysis.speedSpreadPercent).toBeGreaterThan(2);
    expect(analysis.speedSpreadPercent).toBeLessThan(2.6);
    expect(orderOf(analysis, 1).velocityMmS).toBeCloseTo(1, 1);
    expect(orderOf(analysis, 1).phaseDeg).toBeCloseTo(300, 0);
  });

  it('is followed by its line without marks too, and told', () => {
    const analysis = analyseWindow({ accelerationMS2, sampleRateHz: RATE_HZ, speedRpm: 60 * SHAFT_HZ * 1.025 });
    expect(analysis.speedSpreadPercent).toBeCloseTo(2.5 / 1.025, 1);
    expect(analysis.speedRpm! / (60 * SHAFT_HZ * 1.025)).toBeCloseTo(1, 3);
    expect(orderOf(analysis, 1).velocityMmS).toBeCloseTo(1, 1);
    expect(orderOf(analysis, 1).phaseDeg).toBeUndefined();
  });

  it('that swings is told, and not followed', () => {
    const swung = Float64Array.from({ length: SAMPLES }, (_, n) => {
      const s = n / RATE_HZ;
      const turns = SHAFT_HZ * (s - (0.01 / (2 * Math.PI * 2)) * Math.cos(2 * Math.PI * 2 * s));
      return 2 * Math.cos(2 * Math.PI * turns) + 0.2 * noise[n]!;
    });
    const analysis = analyseWindow({ accelerationMS2: swung, sampleRateHz: RATE_HZ, speedRpm: 60 * SHAFT_HZ });
    expect(analysis.speedSpreadPercent).toBeGreaterThan(0.6);
    expect(analysis.speedSpreadPercent).toBeLessThan(1.2);
  });
});

describe('a window that cannot be analysed', () => {
  const good = windowOf(UNBALANCE, 0.5);

  it('is refused with what was expected', () => {
    expect(() => analyseWindow({ ...good, sampleRateHz: 0 })).toThrow(/expected a sample rate above 0 Hz, came 0/);
    expect(() => analyseWindow({ ...good, accelerationMS2: new Float64Array(127) })).toThrow(/expected 128 to/);
    const broken = good.accelerationMS2.slice();
    broken[77] = Number.NaN;
    expect(() => analyseWindow({ ...good, accelerationMS2: broken })).toThrow(/came NaN as sample 77/);
  });

  it.each([128, 129, 1000, 4093])('is not one of %i samples, whatever is in it', (size) => {
    for (const accelerationMS2 of [new Float64Array(size), gaussianRow(size, 1), new Float64Array(size).fill(9.81)]) {
      const analysis = analyseWindow({
        accelerationMS2,
        sampleRateHz: 10_000,
        speedRpm: 6000,
        tachoS: [0, 0, 0, 0, 0],
      });
      expect(WaveAnalysis.parse(JSON.parse(JSON.stringify(analysis)))).toEqual(analysis);
    }
  });
});
