// Guesses drawn anew where few of them carry the weight.
import { drawn, drawnNormal, type Guesses } from './guesses.ts';
import {
  CLAMPING_LEAST,
  CLAMPING_MOST,
  FAR_DEVIATION,
  FAR_EVERY,
  GUESSES,
  GUESSES_EFFECTIVE_SHARE,
  GUESSES_OF_A_KIND_MIN,
  GUESS_KERNEL_SHRINK,
  GUESS_SETTLED_LOADS,
  KIND_LEAST,
} from './limits.ts';

const weightOf = ({ weight, keyed }: Guesses, kind: number): number =>
  weight.reduce((sum, one, guess) => (keyed[guess] === kind ? sum + one : sum), 0);

/**
 * Which guesses of a kind go on, one for each place: those of weight several times, those of none not at all (systematic resampling).
 */
function chosen(guesses: Guesses, kind: number, count: number): readonly number[] {
  const { weight, keyed } = guesses;
  const of = Array.from(keyed.keys()).filter((guess) => keyed[guess] === kind);
  const all = weightOf(guesses, kind);
  const first = drawn(guesses) / count;
  const places: number[] = [];
  let [sum, nth] = [0, 0];
  for (let place = 0; place < count; place += 1) {
    const at = all * (first + place / count);
    while (sum + (weight[of[nth] ?? 0] ?? 0) < at && nth < of.length - 1) {
      sum += weight[of[nth] ?? 0] ?? 0;
      nth += 1;
    }
    places.push(of[nth] ?? 0);
  }
  return places;
}

interface Spread {
  readonly mean: readonly number[];
  readonly deviation: readonly number[];
}

/** Of the guesses with a key: x, y and ln of the clamping; of those without: ln of the amount, nothing, ln of the clamping. */
function coordinatesOf({ keyed, ownX, ownY, clamping }: Guesses, guess: number): readonly [number, number, number] {
  const [x, y] = [ownX[guess] ?? 0, ownY[guess] ?? 0];
  const scatter = Math.log(clamping[guess] ?? 1);
  return keyed[guess] === 1 ? [x, y, scatter] : [Math.log(Math.max(x, 1e-6)), 0, scatter];
}

function spreadOf(guesses: Guesses, places: readonly number[], keyed: number): Spread {
  const sum = [0, 0, 0];
  const squares = [0, 0, 0];
  let count = 0;
  for (const place of places) {
    if (guesses.keyed[place] !== keyed) continue;
    count += 1;
    coordinatesOf(guesses, place).forEach((value, axis) => {
      sum[axis] = (sum[axis] ?? 0) + value;
      squares[axis] = (squares[axis] ?? 0) + value * value;
    });
  }
  const mean = sum.map((value) => value / Math.max(1, count));
  const deviation = squares.map((value, axis) =>
    Math.sqrt(Math.max(1e-4, value / Math.max(1, count) - (mean[axis] ?? 0) ** 2)),
  );
  return { mean, deviation };
}

const within = (clamping: number): number => Math.min(2 * CLAMPING_MOST, Math.max(CLAMPING_LEAST / 2, clamping));

/**
 * One guess moved further than the others lie apart. Gives by how much its levels differ then, so that it tells the usual load as it did.
 */
function movedFar(guesses: Guesses, { ownX, ownY, clamping }: Vectors, nth: number): number {
  const far = (): number => FAR_DEVIATION * drawnNormal(guesses);
  const [x, y, scatter] = [ownX[nth] ?? 0, ownY[nth] ?? 0, clamping[nth] ?? 1];
  const times = Math.exp(far());
  const turned = y === 0 ? 0 : far();
  ownX[nth] = times * (x * Math.cos(turned) - y * Math.sin(turned));
  ownY[nth] = times * (x * Math.sin(turned) + y * Math.cos(turned));
  clamping[nth] = within(scatter * Math.exp(far()));
  const { residual2, clampingGmm } = guesses.usual;
  const squareOf = (own2: number, factor: number): number => residual2 + own2 + (clampingGmm * factor) ** 2;
  const own2 = x * x + y * y;
  return 0.5 * Math.log(squareOf(own2, scatter) / squareOf(times * times * own2, clamping[nth] ?? 1));
}

type Vectors = Pick<Guesses, 'ownX' | 'ownY' | 'clamping'>;

/**
 * Guesses of next to no weight go, the others are drawn anew about themselves with a kernel that is shrunk towards their mean, so that
 * mean and variance of all stay (Liu and West 2001, "Combined parameter and state estimation in simulation-based filtering"; from
 * memory).
 */
export function drawAnew(guesses: Guesses): void {
  const count = guesses.loads < GUESS_SETTLED_LOADS ? guesses.weight.length : Math.min(guesses.weight.length, GUESSES);
  let squares = 0;
  for (const one of guesses.weight) squares += one * one;
  if (count === guesses.weight.length && 1 / squares > GUESSES_EFFECTIVE_SHARE * count) return;
  const kinds = [weightOf(guesses, 0), weightOf(guesses, 1)].map((one) => Math.max(one, KIND_LEAST));
  const [without = 0, withKey = 0] = kinds;
  const share = (count * withKey) / (without + withKey);
  const least = GUESSES_OF_A_KIND_MIN;
  const withKeys = Math.min(Math.max(Math.round(share), least), count - least);
  const all = [...chosen(guesses, 0, count - withKeys), ...chosen(guesses, 1, withKeys)];
  const isFar = (nth: number): boolean => nth % FAR_EVERY === 0;
  // Those that go far stand together, so that a first look, which takes a few evenly, meets them as often as they are.
  const near = all.filter((_, nth) => !isFar(nth));
  const places = [...near, ...all.filter((_, nth) => isFar(nth))];
  const spreads = [spreadOf(guesses, places, 0), spreadOf(guesses, places, 1)];
  const keep = GUESS_KERNEL_SHRINK;
  const width = Math.sqrt(1 - keep * keep);
  const keyed = Uint8Array.from(places, (place) => guesses.keyed[place] ?? 0);
  const [ownX, ownY] = [new Float32Array(count), new Float32Array(count)];
  const clamping = new Float32Array(count);
  const off = new Float32Array(count);
  places.forEach((place, nth) => {
    const { mean, deviation } = spreads[keyed[nth] ?? 0] ?? { mean: [], deviation: [] };
    const at = coordinatesOf(guesses, place);
    const moved = (axis: 0 | 1 | 2): number =>
      keep * at[axis] + (1 - keep) * (mean[axis] ?? 0) + width * (deviation[axis] ?? 0) * drawnNormal(guesses);
    ownX[nth] = keyed[nth] === 1 ? moved(0) : Math.exp(moved(0));
    ownY[nth] = keyed[nth] === 1 ? moved(1) : 0;
    clamping[nth] = within(Math.exp(moved(2)));
    if (nth >= near.length) off[nth] = movedFar(guesses, { ownX, ownY, clamping }, nth);
  });
  for (const level of guesses.levels) {
    const { mean, variance, turn } = level;
    const those = (values: Float32Array): Float32Array => Float32Array.from(places, (place) => values[place] ?? 0);
    level.mean = those(mean).map((one, nth) => one + (off[nth] ?? 0));
    level.variance = those(variance);
    if (turn !== undefined) level.turn = { mean: those(turn.mean), variance: those(turn.variance) };
  }
  const weights = [without / (without + withKey) / (count - withKeys), withKey / (without + withKey) / withKeys];
  const weight = Float64Array.from(keyed, (kind) => weights[kind] ?? 0);
  Object.assign(guesses, { keyed, ownX, ownY, clamping, weight });
}
