// How much likelier each cause makes a load than nothing does, by the size of the change: likelihood ratios.
import { anyAngle, fixedVector } from './amplitude-law.ts';
import type { Guesses, Level } from './guesses.ts';
import {
  ANGLE_COSINES,
  ANGLE_SINES,
  ASSEMBLY_CHANGES,
  MIRRORED,
  MISREADINGS,
  OTHER_SENSOR,
  SENSOR_CHANGES,
  SPINDLE_CHANGES,
} from './changes.ts';
import { levelsOf } from './learn-load.ts';
import {
  ASSEMBLY_SIZES,
  BEARING_SIZES,
  BENCH_SIZES,
  CHANGE_ANGLES,
  DRAWBAR_SIZES,
  FIRST_LOOK_GUESSES,
  GUESSES,
  LEVEL_KNOWN_LOADS,
  LIKELIHOOD_LEAST,
  LIKELIHOOD_LEAST_NEW,
  LIKELIHOOD_TAIL,
  RESONANCE_SIZES,
  SCATTER_LIKELIHOOD_LEAST,
  SENSOR_ANGLE_KEPT,
  SENSOR_SIZES,
  SPINDLE_SIZES,
} from './limits.ts';
import { restOff, restRatios } from './rest.ts';
import { otherDensity, sensorBeside } from './other-sensor.ts';
import type { ToldLoad } from './told-load.ts';
import { knownVector, newSeen, seenBy, turnSeenBy, unknownAngle, type Seen } from './vector-law.ts';

/** Between two angles that are tried lie others: what a vector is off by then, as a share of its square (mean over the gap). */
const ANGLE_SPREAD_SQUARE = (Math.PI / CHANGE_ANGLES) ** 2 / 3;

/** One ratio for each change that is tried. */
export interface LoadRatios {
  readonly assembly: Float64Array;
  /** That its bench read it a little off, which is no fault. */
  readonly misread: Float64Array;
  readonly spindle: Float64Array;
  readonly drawbar: Float64Array;
  /** The same, no load speaking for it much: however far off, one load alone is no scatter. */
  readonly scatter: Float64Array;
  readonly resonance: Float64Array;
  readonly bench: Float64Array;
  readonly sensor: Float64Array;
  readonly bearing: Float64Array;
}

/** Places of guesses and what each of them weighs. */
interface Asked {
  readonly places: ArrayLike<number>;
  readonly weightOf: (place: number) => number;
}

/** Places of so many guesses, evenly through their weights: each stands for as much as the other. */
export function placesOf({ weight }: Guesses, count: number): readonly number[] {
  const places: number[] = [];
  let [sum, guess] = [0, 0];
  for (let nth = 0; nth < count; nth += 1) {
    const at = (nth + 0.5) / count;
    while (sum + (weight[guess] ?? 0) < at && guess < weight.length - 1) {
      sum += weight[guess] ?? 0;
      guess += 1;
    }
    places.push(guess);
  }
  return places;
}

const someOf = (guesses: Guesses, count: number): Asked => ({
  places: placesOf(guesses, count),
  weightOf: () => 1 / count,
});

const allOf = ({ weight }: Guesses): Asked => ({
  places: Array.from(weight, (_, place) => place),
  weightOf: (place) => weight[place] ?? 0,
});

/** Density that every load has at least, whatever made it: where it lies so far above what is expected, in ln. */
export const leastOf = (levels: readonly Level[], above: number): number =>
  levels.some(({ loads }) => loads >= LEVEL_KNOWN_LOADS)
    ? LIKELIHOOD_LEAST * Math.exp(-Math.max(0, above) / LIKELIHOOD_TAIL)
    : LIKELIHOOD_LEAST_NEW;

/** By a few guesses, for a first look; or by all, of a new spindle by as many as there are later. */
export function ratiosOf(guesses: Guesses, load: ToldLoad, by: 'some' | 'all'): LoadRatios {
  const most = by === 'some' ? FIRST_LOOK_GUESSES : GUESSES;
  const asked = guesses.weight.length > most ? someOf(guesses, most) : allOf(guesses);
  const levels = levelsOf(guesses, load);
  const sums = sumsOf(guesses, load, levels, asked);
  const least = leastOf(levels, sums.above);
  const ratio = (densities: Float64Array, floor = least): Float64Array =>
    densities.map((density) => (density + floor) / (sums.none + floor));
  const rest = restOff(levels, load);
  const sensor = ratio(sums.sensor);
  const restRatio = restRatios(guesses, rest);
  const beside = sensorBeside(guesses, load, restRatio);
  return {
    assembly: ratio(sums.assembly),
    misread: ratio(sums.misread),
    spindle: ratio(sums.spindle),
    drawbar: ratio(sums.drawbar),
    scatter: ratio(sums.drawbar, SCATTER_LIKELIHOOD_LEAST),
    resonance: ratio(sums.resonance),
    bench: ratio(sums.bench),
    sensor: sensor.map((one, nth) => one * beside(nth)),
    bearing: Float64Array.from(BEARING_SIZES, (size) => restRatio(size, 0)),
  };
}

interface Sums extends Omit<LoadRatios, 'bearing' | 'scatter'> {
  none: number;
  /** How far the load lies above what is expected, in ln. */
  above: number;
}

/** Densities of the load by guess, each times its weight, summed. */
function sumsOf(guesses: Guesses, load: ToldLoad, levels: readonly Level[], { places, weightOf }: Asked): Sums {
  const sums: Sums = {
    none: 0,
    above: 0,
    assembly: new Float64Array(ASSEMBLY_CHANGES),
    misread: new Float64Array(MISREADINGS.length),
    spindle: new Float64Array(SPINDLE_CHANGES),
    drawbar: new Float64Array(DRAWBAR_SIZES.length),
    resonance: new Float64Array(RESONANCE_SIZES.length),
    bench: new Float64Array(BENCH_SIZES.length),
    sensor: new Float64Array(SENSOR_CHANGES),
  };
  const seen = newSeen();
  const usual = guesses.usualLn === undefined ? undefined : Math.exp(guesses.usualLn);
  for (let nth = 0; nth < places.length; nth += 1) {
    const guess = places[nth] ?? 0;
    const weight = weightOf(guess);
    if (weight < 1e-6) continue;
    seenBy(guess, load.speeds, levels, seen);
    const x = guesses.ownX[guess] ?? 0;
    const y = guesses.ownY[guess] ?? 0;
    const clamping = load.clampingGmm * (guesses.clamping[guess] ?? 0);
    const isKeyed = load.isAngleKnown && guesses.keyed[guess] === 1;
    turnSeenBy(guesses, guess, load, levels, seen);
    add(sums, load, { isKeyed, x, y, clamping, weight, usual, seen });
  }
  return sums;
}

interface Asking {
  readonly isKeyed: boolean;
  readonly x: number;
  readonly y: number;
  /** g·mm. */
  readonly clamping: number;
  readonly weight: number;
  /** The usual whole of this spindle, (g·mm)². */
  readonly usual: number | undefined;
  readonly seen: Seen;
}

function add(sums: Sums, load: ToldLoad, asking: Asking): void {
  const { isKeyed, x, y, clamping, weight, usual, seen } = asking;
  const { ln, error } = seen;
  const { residualX, residualY, residualGmm, errorGmm2 } = load;
  const scatter = clamping * clamping + errorGmm2;
  const own = Math.hypot(x, y);
  const own2 = own * own;
  const [wholeX, wholeY] = [residualX + x, residualY + y];
  const sum = residualGmm * residualGmm + own2;
  const twice = 2 * residualGmm * own;
  /** As it is, with other clampings. */
  const as = (spread: number): number =>
    weight * (isKeyed ? knownVector(seen, wholeX, wholeY, spread) : unknownAngle(seen, own, residualGmm, spread));
  sums.none += as(scatter);
  const fixed = isKeyed ? wholeX * wholeX + wholeY * wholeY : sum;
  const above = ln - 0.5 * Math.log(fixed + scatter);
  sums.above += weight * above;
  addMisread(sums.misread, load, asking, scatter);
  const whole = sum + scatter;
  for (let size = 0; size < ASSEMBLY_SIZES.length; size += 1) {
    const come = ((ASSEMBLY_SIZES[size] ?? 1) ** 2 - 1) * whole;
    if (isKeyed) addCome(sums.assembly, size, { load, asking, come, scatter });
    else addAny(sums.assembly, size, weight * unknownAngle(seen, own, Math.sqrt(residualGmm ** 2 + come), scatter));
  }
  for (let size = 0; size < SPINDLE_SIZES.length; size += 1) {
    const come = ((SPINDLE_SIZES[size] ?? 1) ** 2 - 1) * (usual ?? whole);
    if (isKeyed) addCome(sums.spindle, size, { load, asking, come, scatter });
    else
      addAny(
        sums.spindle,
        size,
        weight * anyAngle(ln, sum + come, 2 * residualGmm * Math.sqrt(own2 + come), scatter, error),
      );
  }
  for (let nth = 0; nth < DRAWBAR_SIZES.length; nth += 1)
    sums.drawbar[nth] = (sums.drawbar[nth] ?? 0) + as((clamping * (DRAWBAR_SIZES[nth] ?? 1)) ** 2 + errorGmm2);
  addElsewhere(sums, load, asking, { fixed, sum, twice, scatter, above });
  for (let nth = 0; nth < BENCH_SIZES.length; nth += 1) {
    const times = BENCH_SIZES[nth] ?? 1;
    const read = isKeyed
      ? knownVector(seen, residualX * times + x, residualY * times + y, scatter)
      : unknownAngle(seen, own, residualGmm * times, scatter);
    sums.bench[nth] = (sums.bench[nth] ?? 0) + weight * read;
  }
}

interface Whole {
  /** Squares, (g·mm)²: where a key fixes the angle, of residual and own apart, twice their product, and of what scatters. */
  readonly fixed: number;
  readonly sum: number;
  readonly twice: number;
  readonly scatter: number;
  /** How far the load lies above that, in ln. */
  readonly above: number;
}

/** At another level: of all that a sensor tells, or of this speed. */
function addElsewhere(sums: Sums, load: ToldLoad, asking: Asking, whole: Whole): void {
  const { isKeyed, x, y, weight, seen } = asking;
  const { fixed, sum, twice, scatter, above } = whole;
  const { ln, error } = seen;
  /** The angle is told as before with that probability, or any. */
  const toldBy = (by: number, kept: number): number => {
    const at = ln - by;
    const amplitude = isKeyed ? fixedVector(at, fixed, scatter, error) : anyAngle(at, sum, twice, scatter, error);
    if (kept === 0 || seen.turnError === Infinity) return amplitude;
    const there = { ...seen, ln: at };
    const told = isKeyed
      ? knownVector(there, load.residualX + x, load.residualY + y, scatter)
      : unknownAngle(there, Math.hypot(x, y), load.residualGmm, scatter);
    return kept * told + (1 - kept) * amplitude;
  };
  for (let nth = 0; nth < SENSOR_SIZES.length; nth += 1)
    sums.sensor[nth] = (sums.sensor[nth] ?? 0) + weight * toldBy(SENSOR_SIZES[nth] ?? 0, SENSOR_ANGLE_KEPT);
  sums.sensor[OTHER_SENSOR] = (sums.sensor[OTHER_SENSOR] ?? 0) + weight * otherDensity(above, error);
  for (let nth = 0; nth < RESONANCE_SIZES.length; nth += 1)
    sums.resonance[nth] = (sums.resonance[nth] ?? 0) + weight * toldBy(RESONANCE_SIZES[nth] ?? 0, 0);
}

interface Come {
  readonly load: ToldLoad;
  readonly asking: Asking;
  /** Square of the vector that has come, (g·mm)². */
  readonly come: number;
  readonly scatter: number;
}

function addMisread(
  sums: Float64Array,
  load: ToldLoad,
  { isKeyed, x, y, weight, seen }: Asking,
  scatter: number,
): void {
  const { residualX, residualY, residualGmm, misreadGmm } = load;
  const [unitX, unitY] = residualGmm > 0 ? [residualX / residualGmm, residualY / residualGmm] : [1, 0];
  const [alongX, alongY] = [misreadGmm * unitX, misreadGmm * unitY];
  const own = Math.hypot(x, y);
  for (let nth = 0; nth < MISREADINGS.length; nth += 1) {
    const mirrored = MIRRORED[nth] ?? nth;
    if (!isKeyed && mirrored < nth) continue;
    const { along = 0, across = 0 } = MISREADINGS[nth] ?? {};
    const [toX, toY] = [residualX + along * alongX - across * alongY, residualY + along * alongY + across * alongX];
    const residual2 = toX * toX + toY * toY;
    // Between two angles that are tried lie others, as of what has come.
    const spread = scatter + misreadGmm * misreadGmm * (along * along + across * across) * ANGLE_SPREAD_SQUARE;
    const density = isKeyed
      ? knownVector(seen, toX + x, toY + y, spread)
      : unknownAngle(seen, own, Math.sqrt(residual2), spread);
    sums[nth] = (sums[nth] ?? 0) + weight * density;
    if (!isKeyed && mirrored !== nth) sums[mirrored] = (sums[mirrored] ?? 0) + weight * density;
  }
}

/** Where a key keeps the angle, what has come is at the same one with every load: each angle is asked. */
function addCome(sums: Float64Array, size: number, { load, asking, come, scatter }: Come): void {
  const { x, y, seen, weight } = asking;
  const amount = Math.sqrt(come);
  const spread = scatter + come * ANGLE_SPREAD_SQUARE;
  for (let nth = 0; nth < CHANGE_ANGLES; nth += 1) {
    const wholeX = load.residualX + x + amount * (ANGLE_COSINES[nth] ?? 1);
    const wholeY = load.residualY + y + amount * (ANGLE_SINES[nth] ?? 0);
    const place = size * CHANGE_ANGLES + nth;
    sums[place] = (sums[place] ?? 0) + weight * knownVector(seen, wholeX, wholeY, spread);
  }
}

/** Without one it is at another angle with every clamping: all angles say the same. */
function addAny(sums: Float64Array, size: number, density: number): void {
  for (let nth = 0; nth < CHANGE_ANGLES; nth += 1) {
    const place = size * CHANGE_ANGLES + nth;
    sums[place] = (sums[place] ?? 0) + density;
  }
}
