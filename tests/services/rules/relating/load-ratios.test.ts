// How much likelier causes make a load: what has to hold of the ratios, on invented spindles whose loads were drawn.
import { describe, expect, test } from 'vitest';
import { emptyFloor } from '../../../../services/rules/index.ts';
import { expectationOf } from '../../../../services/rules/relating/expected.ts';
import type { Guesses } from '../../../../services/rules/relating/guesses.ts';
import {
  ASSEMBLY_SIZES,
  CHANGE_ANGLES,
  FIRST_LOOK_LOG_ODDS,
  HOLD_LOG_ODDS,
  LIKELIHOOD_LEAST_NEW,
  RATES,
  SCATTER_LIKELIHOOD_LEAST,
} from '../../../../services/rules/relating/limits.ts';
import { OTHER_SENSOR } from '../../../../services/rules/relating/changes.ts';
import { placesOf, ratiosOf, type LoadRatios } from '../../../../services/rules/relating/load-ratios.ts';
import { newRelating, type LoadMark } from '../../../../services/rules/relating/relating-state.ts';
import type { ToldLoad } from '../../../../services/rules/relating/told-load.ts';
import { printed } from '../../../shared/statistics/printed.ts';
import { KEYED, learned, SEEDS, toldOf, UNKEYED, type Change, type Truth } from './simulated-spindle.ts';

const FLOOR = emptyFloor('test');
const LEARNED = 60;
const SPINDLES = 5;

interface Spindle {
  readonly guesses: Guesses;
  readonly next: (change?: Change) => readonly LoadMark[];
}

const spindlesOf = (truth: Truth): readonly Spindle[] =>
  SEEDS.slice(0, SPINDLES).map((seed) => learned({ ...truth, seed }, LEARNED));
const WITH_KEY = spindlesOf(KEYED);
const WITHOUT = spindlesOf(UNKEYED);
const BOTH = [...WITH_KEY, ...WITHOUT];

/** A load of the fourth build that shows what is expected of it to the last digit, 1× and what is beside it; or that many times it. */
function expectedLoad({ guesses, next }: Spindle, times = 1, restTimes = 1): ToldLoad {
  const [mark] = next({ build: 3 });
  if (mark === undefined) throw new Error('a load has a mark');
  const { expectedMmS } = expectationOf(FLOOR, { ...newRelating(), guesses }, mark);
  const restMmS = Math.exp(guesses.levels[0]?.restMean ?? 0) * restTimes;
  return toldOf([{ ...mark, square: (expectedMmS * times) ** 2, restSquare: restMmS ** 2 }]);
}

const meanOf = (ratios: Float64Array): number => ratios.reduce((sum, one) => sum + one, 0) / ratios.length;
const largest = (ratios: Float64Array): number => Math.max(...ratios);
const all = (spindle: Spindle, load: ToldLoad): LoadRatios => ratiosOf(spindle.guesses, load, 'all');

describe('a load just as expected', () => {
  test('speaks against every change that is tried, where a key keeps the angle', () => {
    for (const spindle of WITH_KEY) {
      // What a bench read a little off is no change.
      const { misread: _, ...changes } = all(spindle, expectedLoad(spindle));
      for (const [cause, ratios] of Object.entries(changes)) expect(largest(ratios), cause).toBeLessThan(1);
    }
  });

  test('and loads as they are drawn do so on average, with a key or without (Gibbs’ inequality of information theory)', () => {
    const LOADS = 40;
    const sums = new Map<string, Float64Array>();
    for (const spindle of BOTH)
      for (let nth = 0; nth < LOADS; nth += 1)
        for (const [cause, ratios] of Object.entries(all(spindle, toldOf(spindle.next()))) as [
          string,
          Float64Array,
        ][]) {
          const before = sums.get(cause);
          sums.set(
            cause,
            ratios.map((ratio, size) => (before?.[size] ?? 0) + Math.log(ratio) / LOADS / BOTH.length),
          );
        }
    printed(
      'mean of ln of the ratio over loads in which nothing has changed, by size',
      [...sums].map(([cause, means]) => ({
        cause,
        least: Math.min(...means).toFixed(3),
        most: largest(means).toFixed(3),
      })),
    );
    // What a bench misreads by a standard deviation is next to nothing: so far its mean scatters over so many loads.
    for (const [cause, means] of sums) expect(largest(means), cause).toBeLessThan(cause === 'misread' ? 0.003 : 0);
  });
});

describe('a load that is off', () => {
  test('at three times the 1× the assembly is thousands of times likelier, and what is beside it says that it is no bearing', () => {
    for (const spindle of BOTH) {
      const { assembly, bearing, sensor } = all(spindle, expectedLoad(spindle, 3));
      expect(meanOf(assembly)).toBeGreaterThan(1000);
      expect(largest(bearing)).toBeLessThan(1);
      // A gain changes both; a sensor on another spindle could tell this too, and any other load as well.
      expect(meanOf(sensor.subarray(0, OTHER_SENSOR))).toBeLessThan(meanOf(assembly) / 100);
      expect(sensor[OTHER_SENSOR]).toBeLessThan(meanOf(assembly));
    }
  });

  test('of the sizes the likeliest is the one that it is, or its neighbour', () => {
    for (const spindle of BOTH) {
      const { assembly } = all(spindle, expectedLoad(spindle, 2.8));
      const bySize = ASSEMBLY_SIZES.map((_, size) =>
        meanOf(assembly.slice(size * CHANGE_ANGLES, (size + 1) * CHANGE_ANGLES)),
      );
      const best = ASSEMBLY_SIZES[bySize.indexOf(Math.max(...bySize))] ?? 0;
      expect(Math.abs(Math.log(best / 2.8))).toBeLessThan(Math.log(1.6));
    }
  });

  test('twice as much beside the 1× alone is a bearing; both halved alike is the sensor', () => {
    for (const spindle of BOTH) {
      const bearing = all(spindle, expectedLoad(spindle, 1, 2));
      expect(largest(bearing.bearing)).toBeGreaterThan(20);
      expect(meanOf(bearing.assembly)).toBeLessThan(1);
      const half = all(spindle, expectedLoad(spindle, 0.5, 0.5));
      expect(largest(half.sensor)).toBeGreaterThan(20);
      expect(largest(half.bearing)).toBeLessThan(1);
    }
  });

  test('one load alone is no scatter, however far off', () => {
    for (const spindle of BOTH)
      for (const times of [2, 3, 5, 10, 30]) {
        const { scatter, drawbar } = all(spindle, expectedLoad(spindle, times));
        // A scatter that reaches so far is wide, so its density is low anywhere.
        expect(largest(scatter)).toBeLessThan((3 + SCATTER_LIKELIHOOD_LEAST) / SCATTER_LIKELIHOOD_LEAST);
        expect(largest(scatter)).toBeLessThanOrEqual(Math.max(1, largest(drawbar)));
      }
  });

  test('at speeds that are all new no load says more than what the floor allows', () => {
    for (const { guesses, next } of BOTH)
      for (const times of [1, 4, 40]) {
        const told = toldOf(next({ times }));
        const elsewhere = { ...told, speeds: told.speeds.map((one) => ({ ...one, bin: 20_000, rpm: 20_000 })) };
        const { assembly, spindle } = ratiosOf(guesses, elsewhere, 'all');
        // A level that is unsure by a factor of e spreads ln by one at least: densities are below one.
        for (const ratios of [assembly, spindle])
          expect(largest(ratios)).toBeLessThan((1 + LIKELIHOOD_LEAST_NEW) / LIKELIHOOD_LEAST_NEW);
      }
  });
});

describe('what does not matter', () => {
  const near = (ours: Float64Array, theirs: Float64Array): void => {
    ours.forEach((one, nth) => {
      expect(Math.abs(Math.log(one / (theirs[nth] ?? Number.NaN)))).toBeLessThan(1e-3);
    });
  };

  test('the sensor’s gain: with levels and load alike e times as much every ratio is the same', () => {
    for (const spindle of BOTH) {
      const { guesses } = spindle;
      const load = expectedLoad(spindle, 1.7);
      const louder: Guesses = {
        ...guesses,
        levels: guesses.levels.map((level) => ({ ...level, mean: level.mean.map((mean) => mean + 1) })),
      };
      const told = { ...load, speeds: load.speeds.map((speed) => ({ ...speed, ln: speed.ln + 1 })) };
      const [ours, theirs] = [ratiosOf(louder, told, 'all'), ratiosOf(guesses, load, 'all')];
      for (const cause of ['assembly', 'spindle', 'drawbar', 'bench', 'sensor'] as const)
        near(ours[cause], theirs[cause]);
    }
  });

  test('where the frame has its zero: turned by one of the angles that are tried, so is what came', () => {
    const turn = (2 * Math.PI) / CHANGE_ANGLES;
    const turned = (x: number, y: number): readonly [number, number] => [
      x * Math.cos(turn) - y * Math.sin(turn),
      x * Math.sin(turn) + y * Math.cos(turn),
    ];
    for (const spindle of WITH_KEY) {
      const { guesses } = spindle;
      const load = expectedLoad(spindle, 2);
      const ownX = guesses.ownX.map((x, guess) => turned(x, guesses.ownY[guess] ?? 0)[0]);
      const ownY = guesses.ownY.map((y, guess) => turned(guesses.ownX[guess] ?? 0, y)[1]);
      const [residualX, residualY] = turned(load.residualX, load.residualY);
      const ours = ratiosOf({ ...guesses, ownX, ownY }, { ...load, residualX, residualY }, 'all');
      const theirs = all(spindle, load);
      for (const cause of ['assembly', 'spindle'] as const)
        near(
          ours[cause],
          theirs[cause].map((_, place) => {
            const angle = (place % CHANGE_ANGLES) - 1;
            const from = place - (place % CHANGE_ANGLES) + ((angle + CHANGE_ANGLES) % CHANGE_ANGLES);
            return theirs[cause][from] ?? Number.NaN;
          }),
        );
      near(ours.drawbar, theirs.drawbar);
      near(ours.bench, theirs.bench);
    }
  });
});

describe('a first look by a few guesses', () => {
  test('guesses are asked for as often as they weigh, each to within one', () => {
    for (const { guesses } of BOTH) {
      const asked = placesOf(guesses, 24);
      expect(asked).toHaveLength(24);
      guesses.weight.forEach((weight, guess) => {
        const times = asked.filter((place) => place === guess).length;
        expect(Math.abs(times - 24 * weight)).toBeLessThanOrEqual(1);
      });
    }
  });

  /** ln of the odds that this one load gives, of all causes. */
  const logOddsOf = ({ assembly, spindle, drawbar, sensor, bearing }: LoadRatios): number =>
    Math.log(
      (RATES.assembly + RATES.clamping) * meanOf(assembly) +
        RATES.spindle * meanOf(spindle) +
        RATES.drawbar * meanOf(drawbar) +
        RATES.sensor * meanOf(sensor) +
        RATES.bearing * meanOf(bearing),
    );

  test('says what all say to within a factor of four, and lets nothing pass that would be held', () => {
    let [most, held] = [0, 0];
    for (const { guesses, next } of BOTH)
      for (const times of [0.3, 1, 1, 1.5, 2, 3, 5, 10]) {
        const load = toldOf(next({ times }));
        const [few, many] = [logOddsOf(ratiosOf(guesses, load, 'some')), logOddsOf(ratiosOf(guesses, load, 'all'))];
        if (times <= 2) most = Math.max(most, Math.abs(few - many));
        if (many < HOLD_LOG_ODDS - 2) continue;
        held += 1;
        expect(few).toBeGreaterThan(FIRST_LOOK_LOG_ODDS);
      }
    printed('a first look', [
      { 'largest factor up to twice the 1×': Math.exp(most).toFixed(2), 'loads far off': held },
    ]);
    // A look at all follows from e^−2 on, a hold from e^4: four hundred times that.
    expect(most).toBeLessThan(Math.log(4));
    expect(held).toBeGreaterThan(10);
  });
});
