// What marks and spectrum say against a speed: unsteady, told wrongly, a rate that is not what is said, marks missing or twice.
import { describe, expect, test } from 'vitest';
import { analyseWindow, type VibrationWindow } from '../../../shared/vibration/index.ts';
import type { HealthFinding } from '../../../shared/wave-analysis.ts';
import { unsteadyBy } from './planted-faults.ts';
import { gaussianRow, generator } from './rows.ts';

const RATE_HZ = 10_000;
const SIZE = 20_000;
const SHAFT_HZ = 50.3;

/** Six harmonics of a shaft whose angle in turns at an instant is given, in noise. */
function turning(turnsAt: (s: number) => number, seed = 1): Float64Array {
  const noise = gaussianRow(SIZE, seed);
  return noise.map((sample, n) => {
    const turns = turnsAt(n / RATE_HZ);
    let sum = 0.3 * sample;
    for (let h = 1; h <= 6; h += 1) sum += (2 / h) * Math.cos(2 * Math.PI * h * turns + h);
    return sum;
  });
}
const steady = (s: number): number => SHAFT_HZ * s;

function said(window: Partial<VibrationWindow>): readonly HealthFinding[] {
  const row = turning(steady);
  // White noise on purpose: nothing else is to be said of it than what is planted.
  return analyseWindow({ accelerationMS2: row, sampleRateHz: RATE_HZ, ...window }).health;
}

/** Marks of even turns. */
function marksOf(hz: number): number[] {
  const marks: number[] = [];
  for (let s = 0.3 / hz; s < SIZE / RATE_HZ; s += 1 / hz) marks.push(s);
  return marks;
}

describe('a steady speed, rightly told', () => {
  test('told, marked, both or neither: nothing is said', () => {
    const speedRpm = 60 * SHAFT_HZ;
    for (const window of [{}, { speedRpm }, { tachoS: marksOf(SHAFT_HZ) }, { speedRpm, tachoS: marksOf(SHAFT_HZ) }]) {
      expect(said(window)).toEqual([]);
    }
  });

  test('a whole multiple or part of the speed is no contradiction: teeth, belts', () => {
    for (const factor of [2, 3, 4, 0.5, 1 / 3]) expect(said({ speedRpm: 60 * SHAFT_HZ * factor })).toEqual([]);
  });

  test('a told speed with nothing to be seen but noise is not doubted: 40 seeds', () => {
    for (let seed = 1; seed <= 40; seed += 1) {
      const speedRpm = 1000 + 20_000 * generator(seed)();
      expect(said({ accelerationMS2: gaussianRow(SIZE, seed), speedRpm })).toEqual([]);
    }
  });

  test('lines of the mains alone do not make a speed', () => {
    const mains = gaussianRow(SIZE, 2).map((sample, n) => {
      let sum = 0.3 * sample;
      for (let h = 1; h <= 4; h += 1) sum += (3 / h) * Math.cos((2 * Math.PI * h * 50 * n) / RATE_HZ);
      return sum;
    });
    expect(said({ accelerationMS2: mains, speedRpm: 12_700 })).toEqual([]);
  });
});

describe('a speed that is not what is said', () => {
  test.each([0.87, 0.95, 1.042, 1.15, 1.37, 0.61])('told %f times what it is', (factor) => {
    const [finding, ...more] = said({ speedRpm: 60 * SHAFT_HZ * factor });
    expect(more).toEqual([]);
    expect(finding).toMatchObject({ kind: 'wrong-speed', weight: 'speed' });
    expect(finding!.words).toContain(`belongs to ${Math.round(60 * SHAFT_HZ)} rpm`);
  });

  test('a sampling rate that is 4 % off is named as a possible cause', () => {
    const [finding] = said({ sampleRateHz: RATE_HZ * 1.042, speedRpm: 60 * SHAFT_HZ });
    expect(finding!.words).toMatch(/Either the speed or the sampling rate is stated wrongly by 4\.\d* %/);
  });

  test('marks say another speed than was told: the marks are taken', () => {
    const [finding] = said({ speedRpm: 6000, tachoS: marksOf(SHAFT_HZ) });
    expect(finding).toMatchObject({ kind: 'wrong-speed' });
    expect(finding!.words).toMatch(/^6000 rpm were told, the marks of the tacho say 3018 rpm/);
  });
});

describe('standstill that was told', () => {
  test('while a row of harmonics shakes the housing: it turns', () => {
    const { speedFrom, health } = analyseWindow({
      accelerationMS2: turning(steady),
      sampleRateHz: RATE_HZ,
      speedRpm: 0,
    });
    expect(speedFrom).toBe('refined');
    expect(health).toMatchObject([{ kind: 'wrong-speed', weight: 'speed' }]);
    expect(health[0]!.words).toMatch(
      /^Standstill was told, but the velocity is [\d.]+ mm\/s RMS and a clear row of harmonics belongs to 3018 rpm\./,
    );
  });

  test('a neighbour that is hardly heard does not make it turn', () => {
    const quiet = turning(steady).map((sample) => 0.05 * sample);
    const analysis = analyseWindow({ accelerationMS2: quiet, sampleRateHz: RATE_HZ, speedRpm: 0 });
    expect(analysis).toMatchObject({ speedFrom: 'told', speedRpm: 0, orders: [], health: [] });
  });
});

describe('a speed that is not steady', () => {
  const swinging = (s: number): number =>
    SHAFT_HZ * (s - (0.03 / (2 * Math.PI * 0.7)) * Math.cos(2 * Math.PI * 0.7 * s));

  test('by its marks', () => {
    const marks: number[] = [];
    for (let turn = 1, s = 0; s < 2; s += 1e-5) {
      if (swinging(s) - swinging(0) >= turn) {
        marks.push(s);
        turn += 1;
      }
    }
    const [finding] = said({ accelerationMS2: turning(swinging), tachoS: marks });
    expect(finding).toMatchObject({ kind: 'speed-unsteady', weight: 'speed' });
    expect(finding!.words).toMatch(
      /departs from its mean by 2\.\d+ % within the window, more than 1 %\. The orders were followed/,
    );
  });

  test('by its lines, without marks; half a percent is steady enough', () => {
    for (const [share, kinds] of [
      [0.02, ['speed-unsteady']],
      [0.004, []],
    ] as const) {
      const row = unsteadyBy(share)(turning(steady), 1);
      const findings = said({ accelerationMS2: row, speedRpm: 60 * SHAFT_HZ });
      expect(findings.filter((it) => it.weight === 'speed').map((it) => it.kind)).toEqual(kinds);
    }
  });
});

describe('marks of a tacho', () => {
  test.each([
    {
      change: 'one missing',
      marks: (all: number[]) => all.toSpliced(40, 1),
      words: '1 mark is missing',
      weight: 'doubtful',
    },
    {
      change: 'many missing',
      marks: (all: number[]) => all.filter((_, i) => i % 9 !== 4),
      words: '11 marks are missing',
      weight: 'speed',
    },
    {
      change: 'the last ten missing',
      marks: (all: number[]) => all.slice(0, -10),
      words: '10 marks are missing',
      weight: 'speed',
    },
    {
      change: 'the last missing',
      marks: (all: number[]) => all.slice(0, -1),
      words: '1 mark is missing',
      weight: 'doubtful',
    },
    {
      change: 'one twice',
      marks: (all: number[]) => all.toSpliced(30, 0, all[29]! + 0.002),
      words: '1 came twice',
      weight: 'doubtful',
    },
  ])('$change', ({ marks, words, weight }) => {
    const [finding, ...more] = said({ tachoS: marks(marksOf(SHAFT_HZ)) });
    expect(more).toEqual([]);
    expect(finding).toMatchObject({ kind: 'tacho-missing', weight });
    expect(finding!.words).toContain(words);
    expect(finding!.words).toContain(weight === 'speed' ? 'the phase is doubtful' : 'speed and phase hold');
  });

  test.each([
    {
      change: 'all behind its end',
      tachoS: [100, 200, 300, 400, 500],
      words: '5 marks of the tacho, from 100 s to 500 s,',
    },
    { change: 'in milliseconds', tachoS: marksOf(SHAFT_HZ).map((s) => 1000 * s), words: ', from 5.96 s to' },
    {
      change: 'a turn longer than the window',
      tachoS: [0, 2.1, 2.1, 4.2, 6.3],
      words: '5 marks of the tacho, from 0 ms to 6.3 s,',
    },
  ])('that do not belong to the window are not used: $change', ({ tachoS, words }) => {
    const { speedFrom, speedRpm, health, orders } = analyseWindow({
      accelerationMS2: turning(steady),
      sampleRateHz: RATE_HZ,
      speedRpm: 60 * SHAFT_HZ,
      tachoS,
    });
    expect(speedFrom).toBe('refined');
    expect(speedRpm).toBeCloseTo(60 * SHAFT_HZ, 0);
    expect(orders[0]).not.toHaveProperty('phaseDeg');
    expect(health).toMatchObject([{ kind: 'tacho-missing', weight: 'speed' }]);
    expect(health[0]!.words).toContain(words);
    expect(health[0]!.words).toContain('do not fit into the window of 2 s: they are not used');
  });

  test('a mark or two behind the end are of the same turning', () => {
    const marks = marksOf(SHAFT_HZ);
    const last = marks.at(-1)!;
    expect(said({ tachoS: [...marks, last + 1 / SHAFT_HZ, last + 2 / SHAFT_HZ] })).toEqual([]);
  });

  test('none at all while it turns; none at standstill is right', () => {
    expect(said({ tachoS: [], speedRpm: 3018 })[0]!.words).toMatch(/^The tacho gave 0 marks in about 101 turns/);
    const still = gaussianRow(SIZE, 3).map((sample) => 0.02 * sample);
    expect(said({ accelerationMS2: still, tachoS: [], speedRpm: 0 })).toEqual([]);
  });
});
