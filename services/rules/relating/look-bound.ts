// What a load could say at most, without asking each cause: most loads are as expected, and end there.
import { asItIs } from './as-it-is.ts';
import { ASSEMBLY_CHANGES, MISREADINGS, SENSOR_CHANGES, SPINDLE_CHANGES } from './changes.ts';
import type { Guesses } from './guesses.ts';
import { levelsOf } from './learn-load.ts';
import { BEARING_SIZES, BENCH_SIZES, DRAWBAR_SIZES, FIRST_LOOK_GUESSES, RESONANCE_SIZES } from './limits.ts';
import { leastOf, placesOf, type LoadRatios } from './load-ratios.ts';
import { sensorBeside } from './other-sensor.ts';
import { restOff, restRatios } from './rest.ts';
import type { ToldLoad } from './told-load.ts';
import { mostByAngle, newSeen, seenBy, turnSeenBy } from './vector-law.ts';

/**
 * Ratios that none is above, by a few guesses: a density of ln of the amplitude is nowhere above 1/√(variance of its error), less the
 * factor 1/√(2π), and that of its angle nowhere above where the two agree. What is usual is told by none of them.
 */
export function boundOf(guesses: Guesses, load: ToldLoad): LoadRatios {
  const levels = levelsOf(guesses, load);
  const seen = newSeen();
  let [none, above, densest] = [0, 0, 0];
  for (const guess of placesOf(guesses, FIRST_LOOK_GUESSES)) {
    seenBy(guess, load.speeds, levels, seen);
    turnSeenBy(guesses, guess, load, levels, seen);
    const { density, square } = asItIs(guesses, guess, load, seen);
    none += density / FIRST_LOOK_GUESSES;
    above += (seen.ln - 0.5 * Math.log(square)) / FIRST_LOOK_GUESSES;
    densest += mostByAngle(seen) / Math.sqrt(seen.error) / FIRST_LOOK_GUESSES;
  }
  const least = leastOf(levels, above);
  const most = (Math.max(densest, none) + least) / (none + least);
  const restRatio = restRatios(guesses, restOff(levels, load));
  const beside = sensorBeside(guesses, load, restRatio);
  const all = (changes: number): Float64Array => new Float64Array(changes).fill(most);
  return {
    assembly: all(ASSEMBLY_CHANGES),
    misread: new Float64Array(MISREADINGS.length),
    spindle: all(SPINDLE_CHANGES),
    drawbar: all(DRAWBAR_SIZES.length),
    scatter: all(DRAWBAR_SIZES.length),
    resonance: new Float64Array(RESONANCE_SIZES.length),
    bench: all(BENCH_SIZES.length),
    sensor: Float64Array.from({ length: SENSOR_CHANGES }, (_, nth) => most * beside(nth)),
    bearing: Float64Array.from(BEARING_SIZES, (size) => restRatio(size, 0)),
  };
}
