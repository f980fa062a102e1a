// Raw windows in the rules: a bearing that speaks for long is said once, what is usual is known, and holds ask for a window.
import { describe, expect, test } from 'vitest';
import { decide } from '../../../services/rules/decide.ts';
import { evolve } from '../../../services/rules/evolve.ts';
import { emptyFloor, type Floor } from '../../../services/rules/floor.ts';
import { usualRmsMS2, usualThirdsMmS } from '../../../services/rules/window-state.ts';
import type { Draft } from '../../../shared/entries.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import type { BearingFinding, WaveAnalysis } from '../../../shared/wave-analysis.ts';
import { QUIET_WINDOW } from '../quiet-window.ts';
import { play } from './play.ts';
import { MIDNIGHT } from './story-data.ts';

const outer = (speaks: boolean): BearingFinding => ({
  bearing: 'front',
  part: 'outer',
  expectedHz: 1500,
  foundHz: 1496,
  indicator: 9.31,
  harmonics: 3,
  sidebands: 0,
  speaks,
});

class Told {
  readonly floor: Floor = emptyFloor('test');

  take(draft: Draft): readonly Outcome[] {
    const entry = { ...draft, position: this.floor.position + 1 };
    const outcomes = decide(this.floor, entry);
    evolve(this.floor, entry, outcomes);
    return outcomes;
  }

  window(analysis: Partial<WaveAnalysis>, channel = 'radial-x'): readonly Outcome[] {
    this.wave({ channel });
    const at = this.floor.at;
    const analysed = {
      kind: 'analysed',
      at,
      wave: this.floor.position,
      device: 'sensor-S-1',
      spindleId: 'S-1',
      channel,
      measuredAt: at,
      outcome: { kind: 'analysed', analysis: { ...QUIET_WINDOW, ...analysis } },
    } as const;
    return this.take(analysed);
  }

  wave({ channel = 'radial-x', asked }: { readonly channel?: string; readonly asked?: string } = {}): void {
    const at = Math.max(MIDNIGHT, this.floor.at + 60_000);
    const data = {
      spindleId: 'S-1',
      channel,
      sampleRateHz: 12_800,
      encoding: 'int16' as const,
      scaleMS2: 0.01,
      sampleCount: 4096,
      ...(asked === undefined ? {} : { asked }),
    };
    this.take({ kind: 'wave', at, id: `w-${at}`, device: 'sensor-S-1', data });
  }

  ask(): readonly Outcome[] {
    const actor = { name: 'Ada-Invented', roles: ['engineer' as const] };
    const at = this.floor.at + 1000;
    return this.take({ kind: 'ask-wave', at, id: `ask-${at}`, actor, data: { spindleId: 'S-1' } });
  }
}

const remarks = (outcomes: readonly Outcome[]): readonly string[] =>
  outcomes.flatMap((outcome) => (outcome.kind === 'remarked' ? [outcome.remark] : []));

describe('a bearing part', () => {
  const SPEAKS = { bearings: [outer(true)] };
  const SILENT = { bearings: [outer(false)] };

  test('that speaks in three windows in a row is said once', () => {
    const told = new Told();
    expect([SPEAKS, SPEAKS, SPEAKS, SPEAKS].map((window) => remarks(told.window(window)))).toEqual([
      [],
      [],
      [
        'the envelope speaks of the outer race of its bearing front at 1,496 Hz, 9.31 times its noise, in 3 windows: have the bearing looked at',
      ],
      [],
    ]);
  });

  test('that speaks now and then is not', () => {
    const told = new Told();
    const windows = [SPEAKS, SPEAKS, SILENT, SPEAKS, SPEAKS, SILENT, SPEAKS];
    expect(windows.flatMap((window) => remarks(told.window(window)))).toEqual([]);
  });

  test('is told of until it was silent in three windows in a row', () => {
    const told = new Told();
    for (const window of [SPEAKS, SPEAKS, SPEAKS, SILENT, SILENT, SPEAKS, SILENT, SILENT]) told.window(window);
    expect(told.floor.windows.get('S-1')?.channels[0]?.speaking).toMatchObject([{ standing: true, silent: 2 }]);
    expect(remarks(told.window(SILENT))).toEqual([
      'the envelope no longer speaks of the outer race of its bearing front',
    ]);
    expect(told.floor.windows.get('S-1')?.channels[0]?.speaking).toEqual([]);
  });

  test('neither speaks nor is silent in the cut, or where the signal is unusable', () => {
    const told = new Told();
    const clipped = { kind: 'clipped', weight: 'unusable', words: 'it clips' } as const;
    const windows = [SPEAKS, SPEAKS, { ...SPEAKS, cutting: true }, { ...SPEAKS, health: [clipped] }];
    expect(windows.flatMap((window) => remarks(told.window(window)))).toEqual([]);
    expect(remarks(told.window(SPEAKS))).toHaveLength(1);
  });

  test('of one channel says nothing of another', () => {
    const told = new Told();
    for (const channel of ['x', 'y', 'x', 'y']) expect(told.window(SPEAKS, channel)).toEqual([]);
    expect(remarks(told.window(SPEAKS, 'x'))).toHaveLength(1);
  });
});

describe('what is usual begins anew', () => {
  const of = { spindleId: 'S-1', channel: 'radial-x', speedRpm: 12_000, cutting: undefined };
  const offScale = { health: [{ kind: 'scale', weight: 'unusable', words: '1000 times more' } as const] };
  const healthy = (told: Told, count: number): void => {
    for (let index = 0; index < count; index += 1) told.window({ accelerationRmsMS2: 3 });
  };
  const off = (told: Told, count: number, rms = 0.003): readonly Outcome[] =>
    Array.from({ length: count }, () => told.window({ ...offScale, accelerationRmsMS2: rms })).flat();

  test('after a day of windows that are all off by the same: a wrong scale at first cannot make all right ones wrong', () => {
    const told = new Told();
    healthy(told, 9);
    expect(off(told, 23)).toEqual([]);
    expect(usualRmsMS2(told.floor, of)).toBe(3);
    expect(off(told, 1)).toMatchObject([
      {
        kind: 'remarked',
        remark:
          'the acceleration on radial-x was 0.003 m/s² RMS in 24 windows in a row, and 3 before: that is what is usual from now on. Have the scale of its sensor checked',
      },
    ]);
    expect(usualRmsMS2(told.floor, of)).toBe(0.003);
  });

  test('not while healthy ones come between, nor while they do not agree, nor for another fault', () => {
    const told = new Told();
    healthy(told, 9);
    off(told, 23);
    healthy(told, 1);
    off(told, 23);
    off(told, 1, 0.03);
    off(told, 22);
    for (let index = 0; index < 40; index += 1)
      told.window({ accelerationRmsMS2: 0.01, health: [{ kind: 'clipped', weight: 'unusable', words: 'cut off' }] });
    expect(usualRmsMS2(told.floor, of)).toBe(3);
  });
});

describe('what is usual', () => {
  const of = { spindleId: 'S-1', channel: 'radial-x', speedRpm: 12_100, cutting: false };

  test('is the median of the last healthy windows at nearly the same speed, once there are five', () => {
    const told = new Told();
    for (const accelerationRmsMS2 of [3, 5, 4, 100]) told.window({ accelerationRmsMS2 });
    expect(usualRmsMS2(told.floor, of)).toBeUndefined();
    told.window({ accelerationRmsMS2: 2 });
    expect(usualRmsMS2(told.floor, of)).toBe(4);
    expect(usualRmsMS2(told.floor, { ...of, speedRpm: 18_000 })).toBeUndefined();
    expect(usualRmsMS2(told.floor, { ...of, channel: 'radial-y' })).toBeUndefined();
  });

  test('is not learned from windows in the cut or with anything wrong', () => {
    const told = new Told();
    const doubtful = { kind: 'mounting', weight: 'doubtful', words: 'loose' } as const;
    for (let nth = 0; nth < 6; nth += 1) {
      told.window({ cutting: true });
      told.window({ health: [doubtful] });
    }
    expect(usualRmsMS2(told.floor, of)).toBeUndefined();
  });

  test('takes no more room the more comes', () => {
    const told = new Told();
    for (let nth = 0; nth < 200; nth += 1)
      told.window({ speedRpm: 100 + nth * 97, accelerationRmsMS2: nth }, `c-${nth % 9}`);
    const channels = told.floor.windows.get('S-1')?.channels ?? [];
    expect(channels).toHaveLength(4);
    expect(Math.max(...channels.map(({ usual }) => usual.length))).toBeLessThanOrEqual(6);
  });
});

describe('the usual spectrum', () => {
  const of = { spindleId: 'S-1', channel: 'radial-x', speedRpm: 12_000, cutting: undefined };
  const levels = (mmS: number, thirds = 20): Pick<WaveAnalysis, 'levels'> => ({
    levels: { lowestHz: 5, bandsPerOctave: 12, velocityMmS: Array.from({ length: 4 * thirds }, () => mmS / 2) },
  });
  const rings = { health: [{ kind: 'mounting', weight: 'doubtful', words: 'loose' } as const] };
  const usual = (told: Told): readonly number[] | undefined => usualThirdsMmS(told.floor, of);

  test('is the mean power of the last healthy windows in third octaves, once there are five', () => {
    const told = new Told();
    for (const mmS of [1, 1, 7, 7]) told.window(levels(mmS));
    expect(usual(told)).toBeUndefined();
    told.window(levels(5));
    // (1 + 1 + 49 + 49 + 25) / 5 is 25.
    expect(usual(told)).toHaveLength(20);
    expect(usual(told)?.every((it) => Math.abs(it - 5) < 1e-12)).toBe(true);
    expect(usualThirdsMmS(told.floor, { ...of, cutting: true })).toBeUndefined();
    expect(usualThirdsMmS(told.floor, { ...of, speedRpm: 18_000 })).toBeUndefined();
  });

  test('begins anew with another sampling rate, and learns nothing of a window that rings', () => {
    const told = new Told();
    for (let nth = 0; nth < 5; nth += 1) told.window(levels(1));
    told.window({ ...levels(9), ...rings });
    expect(usual(told)?.[0]).toBe(1);
    told.window(levels(2, 24));
    expect(usual(told)).toBeUndefined();
  });

  test('is that of a sensor that rings after a day of nothing else, which is put on record', () => {
    const told = new Told();
    for (let nth = 0; nth < 9; nth += 1) told.window(levels(1));
    const window = { ...levels(9), ...rings };
    expect(Array.from({ length: 23 }, () => told.window(window)).flat()).toEqual([]);
    expect(usual(told)?.[0]).toBe(1);
    expect(remarks(told.window(window))).toEqual([
      'in 24 windows in a row the sensor on radial-x seemed to ring on its mount: their spectrum is what is usual from now on. Have its mount checked',
    ]);
    for (let nth = 0; nth < 4; nth += 1) expect(told.window(levels(9))).toEqual([]);
    expect(usual(told)?.[0]).toBeCloseTo(9, 12);
  });

  test('a healthy window between begins the count anew', () => {
    const told = new Told();
    for (let nth = 0; nth < 9; nth += 1) told.window(levels(1));
    for (let nth = 0; nth < 40; nth += 1) {
      told.window({ ...levels(9), ...rings });
      if (nth % 20 === 10) told.window(levels(1));
    }
    expect(usual(told)?.[0]).toBe(1);
  });
});

describe('a window', () => {
  test('is asked for by a person, and waited for until one comes', () => {
    const told = new Told();
    told.wave();
    expect(told.ask()).toEqual([
      { cause: 2, kind: 'wave-asked', spindleId: 'S-1', device: 'sensor-S-1', id: 'W-2', by: 'Ada-Invented' },
    ]);
    expect(told.floor.windows.get('S-1')?.asked).toEqual({ id: 'W-2', at: told.floor.at, by: 'Ada-Invented' });
    told.wave({ asked: 'W-1' });
    expect(told.floor.windows.get('S-1')?.asked?.id).toBe('W-2');
    told.wave({ asked: 'W-2' });
    expect(told.floor.windows.get('S-1')?.asked).toBeUndefined();
  });

  test('cannot be asked of a spindle whose sensor never sent one', () => {
    const outcomes = new Told().ask();
    expect(remarks(outcomes)).toEqual(['Ada-Invented asked for a raw window, but no sensor of it has ever sent one']);
  });

  test('of an older measurement than is known changes nothing', () => {
    const told = new Told();
    told.window({ health: [] });
    const health: WaveAnalysis['health'] = [{ kind: 'flat', weight: 'unusable', words: 'flat' }];
    const older: Draft = {
      kind: 'analysed',
      at: told.floor.at,
      wave: 0,
      device: 'sensor-S-1',
      spindleId: 'S-1',
      channel: 'radial-x',
      measuredAt: 0,
      outcome: {
        kind: 'analysed',
        analysis: { ...QUIET_WINDOW, health },
      },
    };
    expect(told.take(older)).toEqual([]);
    expect(told.floor.windows.get('S-1')?.channels[0]?.health).toEqual([]);
  });

  test('is asked for when its spindle is put on hold for vibration', () => {
    const told = new Told();
    told.wave();
    const { outcomes } = play(
      `
      00:10 limit S-1 overall 4.5 from 1000 to 24000 and 1x 2.8 from 1000 to 24000
      00:20:00 reading S-1 overall 5.0 1x 1.0 ×4 every 20 s
      00:21:20 reading S-1 overall 5.0 1x 1.0  => hold S-1 overall-over-limit => asked sensor-S-1 for S-1 by service
      00:21:40 reading S-1 overall 5.0 1x 1.0
      `,
      told.floor,
    );
    expect(outcomes.filter(({ kind }) => kind === 'wave-asked')).toHaveLength(1);
  });
});
