// How long the exact choice of set screws takes: twelve holes, six masses, 13,841,287,201 ways to fill them.
import { performance } from 'node:perf_hooks';
import { adviseCorrection, type CorrectionQuestion } from '../../../shared/correction/index.ts';
import type { FeatureOf } from '../../../shared/messages/index.ts';
import { listed, median, type Bench } from '../figure.ts';

const CASES = 20;
const HOLES = 12;
const SMALL_HOLES = 6;
const MASSES_G = [0.35, 0.52, 0.71, 0.98, 1.33, 1.71];
const PERMISSIBLE_GMM = 0.001;

export const screwSearch: Bench = {
  figures: [
    {
      name: 'correct.screws_12x6_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      goal: '≤ 50',
      method:
        'An advice for set screws alone: 12 holes at uneven angles, 6 masses, as many as wanted of each, demanded so little ' +
        'that the best choice of all is needed; proven exact. Median of 20 random unbalances by a fixed seed, in a warm process.',
    },
    {
      name: 'correct.screws_6x6_ratio_to_enumeration',
      unit: '1',
      better: 'higher',
      baseline: null,
      method:
        'The same with 6 holes against trying all 117,649 choices one after the other in a loop that only adds and compares: ' +
        'time of the loop ÷ time of the advice, words included; medians of 20.',
    },
  ],
  run: async ({ repeats, say }) => {
    const large: number[] = [];
    const ratios: number[] = [];
    const next = seeded(7);
    time(() => advised(HOLES, next));
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      large.push(median(Array.from({ length: CASES }, () => time(() => advised(HOLES, next)))));
      const small = median(Array.from({ length: CASES }, () => time(() => advised(SMALL_HOLES, next))));
      const plain = median(Array.from({ length: CASES }, () => time(() => enumerated(next))));
      ratios.push(plain / small);
      say(`screws ${repeat + 1} of ${repeats}: ${large.at(-1)?.toFixed(1)} ms, ratio ${ratios.at(-1)?.toFixed(2)}`);
    }
    return {
      values: {
        'correct.screws_12x6_ms': median(large),
        'correct.screws_6x6_ratio_to_enumeration': median(ratios),
      },
      details: [`12 holes: ${listed(large, 1)} ms`, `6 holes, enumeration ÷ advice: ${listed(ratios, 2)}`],
    };
  },
};

/** A generator of numbers from 0 to 1 (Park and Miller 1988). */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

function time(work: () => void): number {
  const begun = performance.now();
  work();
  return performance.now() - begun;
}

function featureOf(holes: number): FeatureOf<'set-screws'> {
  return {
    kind: 'set-screws',
    featureId: 'screws',
    keepClear: [],
    radiusMm: 20,
    holesDeg: Array.from({ length: holes }, (_, i) => (360 / holes) * i + 4 * Math.sin(7 * i)),
    stock: MASSES_G.map((massG) => ({ massG })),
    setNow: [],
  };
}

function advised(holes: number, next: () => number): void {
  const question: CorrectionQuestion = {
    planes: [
      {
        name: 'the only',
        unbalance: { gmm: 10 + 40 * next(), angleDeg: 360 * next() },
        errorGmm: 0,
        permissibleGmm: PERMISSIBLE_GMM,
        positionMm: null,
      },
    ],
    wholeErrorGmm: 0,
    wholePermissibleGmm: PERMISSIBLE_GMM,
    centreOfMassMm: null,
    features: [featureOf(holes)],
  };
  const { plans } = adviseCorrection(question);
  if (plans.some(({ search }) => search !== 'exact')) throw new Error('a search that should be exact was not');
}

/** The least that any choice leaves, by trying them all. */
function enumerated(next: () => number): number {
  const { holesDeg, radiusMm } = featureOf(SMALL_HOLES);
  const masses = [0, ...MASSES_G];
  const cosines = holesDeg.map((deg) => radiusMm * Math.cos((deg * Math.PI) / 180));
  const sines = holesDeg.map((deg) => radiusMm * Math.sin((deg * Math.PI) / 180));
  let least = Infinity;
  const descend = (hole: number, x: number, y: number): void => {
    if (hole === holesDeg.length) {
      least = Math.min(least, x * x + y * y);
      return;
    }
    for (const mass of masses) descend(hole + 1, x + mass * (cosines[hole] ?? 0), y + mass * (sines[hole] ?? 0));
  };
  descend(0, 10 + 40 * next(), 10 * next());
  return least;
}
