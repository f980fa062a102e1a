// That a bench reads too little: what that explains, and what it leaves of a load for all other causes.
import { describe, expect, test } from 'vitest';
import { benchMisread, besideBench } from '../../../../services/rules/relating/bench-misreading.ts';
import type { LoadRatios } from '../../../../services/rules/relating/load-ratios.ts';
import {
  newBuildOdds,
  newSpindleOdds,
  type MeasuredSum,
  type Track,
} from '../../../../services/rules/relating/relating-state.ts';
import { lookAt, takeLook } from '../../../../services/rules/relating/look.ts';
import { inS1, told } from './told-loads.ts';

/** Builds that a bench measured one after the other, by what their loads say of it: ln of the likelihood ratio, the same for each size. */
const measured = (...logs: readonly number[]): readonly MeasuredSum[] =>
  logs.map((log, nth) => ({
    pair: `A-${nth}`,
    measured: nth + 1,
    logRatios: [log, log, log],
    logMisread: 0,
    spindles: [`S-${nth % 2}`],
    since: 1000 + nth,
  }));

const trackOf = (sums: readonly MeasuredSum[], atHand: string): Track => ({
  odds: newSpindleOdds(),
  build: newBuildOdds(atHand),
  measured: sums,
});

const ratios = (bench: number, other: number): LoadRatios => {
  const all = Float64Array.of(other);
  return {
    assembly: all,
    misread: all,
    spindle: all,
    drawbar: all,
    scatter: all,
    resonance: all,
    sensor: all,
    bearing: all,
    bench: Float64Array.of(bench, bench, bench),
  };
};

describe('what a bench misread', () => {
  test('is what it measured since it began: a build from before is not explained by it', () => {
    const sums = measured(-3, -3, 6, 6, 6, 6);
    const since = benchMisread(trackOf(sums, 'A-4'), 'now');
    expect(since?.odds).toBeGreaterThan(100);
    expect(since?.since).toBe(1002);
    expect(benchMisread(trackOf(sums, 'A-1'), 'now')?.odds).toBeLessThan(since!.odds / 10);
    expect(benchMisread(trackOf(sums, 'A-0'), 'now')?.odds).toBeLessThan(since!.odds / 100);
  });

  test('explains what raised a hold though the bench was put right since, and not what runs now', () => {
    const sums = measured(-3, 6, 6, 6, -4, -4, -4, -4, -4);
    expect(benchMisread(trackOf(sums, 'A-8'), 'now')?.odds).toBeLessThan(1);
    const ended = benchMisread(trackOf(sums, 'A-8'), 'since-the-hold');
    expect(ended?.odds).toBeGreaterThan(50);
    expect(ended?.since).toBe(1001);
  });

  test('is told by no fewer than three builds in two spindles', () => {
    expect(benchMisread(trackOf(measured(9, 9), 'A-1'), 'now')).toBeUndefined();
    const alone = measured(9, 9, 9, 9).map((one) => ({ ...one, spindles: ['S-1'] }));
    expect(benchMisread(trackOf(alone, 'A-1'), 'now')).toBeUndefined();
    expect(benchMisread(trackOf([], 'A-1'), 'since-the-hold')).toBeUndefined();
  });
});

describe('what a load says of all but its bench', () => {
  test('is what is left once the bench explains what it can; a bearing shows itself beside the 1×', () => {
    const left = besideBench(ratios(100, 120), measured(6, 6, 6, 6), 'A-3');
    for (const cause of ['assembly', 'spindle', 'drawbar', 'scatter', 'resonance', 'sensor'] as const)
      expect(left[cause][0]).toBeCloseTo(1.2, 1);
    expect(left.bearing[0]).toBe(120);
    expect(left.bench[0]).toBe(100);
  });

  test('is the whole of it while nothing speaks against the bench, of a build from before, and of a load that the bench does not explain', () => {
    const load = ratios(100, 120);
    expect(besideBench(load, [], 'A-0')).toBe(load);
    expect(besideBench(load, measured(-6, -6, -6, -6), 'A-3').spindle[0]).toBeCloseTo(120, 0);
    expect(besideBench(load, measured(-9, -9, 6, 6, 6), 'A-0').spindle[0]).toBeCloseTo(120, 0);
    const quiet = ratios(0.1, 120);
    expect(besideBench(quiet, measured(6, 6, 6, 6), 'A-3')).toBe(quiet);
  });
});

describe('a load that has ended', () => {
  /** Two loads far off what was expected, the second looked at; and a bench of which so much is known. */
  const looked = (logs: readonly number[]) => {
    const { floor } = told([inS1('A-1', { times: 1.5 }), inS1('A-2', { times: 1.5 })]);
    const look = lookAt(floor, 'S-1', 'whole');
    if (look === undefined) throw new Error('two loads after 48 are looked at');
    const build = { ...look.track.build, odds: { odds: Float64Array.of(30), since: Float64Array.of(0) } };
    const odds = { ...look.track.odds, spindle: build.odds, bearing: build.odds };
    const sums = [...measured(...logs), { ...measured(9)[0]!, pair: build.pair }];
    return { floor, look: { ...look, track: { odds, build, measured: logs.length > 0 ? sums : [] } } };
  };

  test('leaves nothing with spindle and build where the bench is what it was, so that none is left when the bench is put right', () => {
    const { floor, look } = looked([9, 9, 9]);
    takeLook(floor, look);
    const { odds, resonances } = floor.relating.get('S-1')!;
    expect(odds.spindle).toEqual(newSpindleOdds().spindle);
    expect(resonances).toEqual([]);
    expect(floor.buildOdds.get('A-2')?.odds).toEqual(newBuildOdds('').odds);
    // What is beside the 1× is no matter of a bench.
    expect(odds.bearing.odds[0]).toBe(30);
    expect(floor.benchOdds.get('bench-1')).toHaveLength(4);
  });

  test('counts for spindle and build where nothing speaks against the bench', () => {
    const { floor, look } = looked([]);
    takeLook(floor, look);
    expect(floor.relating.get('S-1')?.odds.spindle.odds[0]).toBe(30);
    expect(floor.buildOdds.get('A-2')?.odds.odds[0]).toBe(30);
  });
});
