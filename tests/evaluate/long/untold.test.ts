// The detector that is not told the size: later than the one that is, sooner the larger the fault, and as seldom wrong as the aim allows.
import { expect, test } from 'vitest';
import { prngOf, type AffectedLoad, type LongLabel, type Turning } from '../../../simulators/index.ts';
import { informedLoads } from './informed.ts';
import { draw } from './likelihood.ts';
import { untoldLoads } from './untold.ts';

const USUAL: Turning = { residualX: 2, residualY: 1, ownX: 0.5, ownY: -1, clampingGmm: 1.2, strayGmm: 0, logFloor: 0 };
const LOADS = 60;
const LOADS_PER_SPINDLE_DAY = 4;

interface Drawn {
  readonly kind: LongLabel['kind'];
  readonly becomes: Turning;
  /** What truly turns; as it becomes where left out. */
  readonly truly?: Turning;
  readonly nth: number;
  readonly rampLoads?: number;
}

/** A fault of sixty loads in a spindle without a key and tacho, as it might have been. */
function labelOf({ kind, becomes, truly = becomes, nth, rampLoads = 0 }: Drawn): LongLabel {
  const prng = prngOf('untold-test', kind, String(nth));
  const chance = { next: () => prng.next(), gaussian: () => prng.gaussian() };
  const readings = 10;
  const loads = Array.from({ length: LOADS }, (_, at): AffectedLoad => {
    const load = {
      nth: at,
      spindleId: 'S-01',
      assemblyId: 'A-0001',
      buildId: 'A-0001-B1',
      benchId: 'bench-1',
      at,
      until: at + 1,
      keyed: false,
      tacho: false,
      readingNoise: 0.02,
      floorSpread: 0.1,
      readings,
      sumSquares: 0,
      sumX: 0,
      sumY: 0,
      sumLogFloor: 0,
    };
    const seen = draw({ load, turning: truly }, chance);
    load.sumSquares = readings * seen.amount ** 2;
    load.sumX = readings * seen.x;
    load.sumY = readings * seen.y;
    load.sumLogFloor = readings * seen.logFloor;
    return { load, without: USUAL, with: becomes };
  });
  return {
    kind,
    cause: 'spindle',
    subject: { kind: 'spindle', id: 'S-01' },
    names: new Set(['S-01']),
    from: nth,
    to: nth + LOADS,
    mixed: false,
    loads,
    rampLoads,
    floorFactor: kind === 'outer-race-growing' ? 3 : undefined,
  };
}

const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;

/** Loads until it is told, over six draws; one that is not told counts as all of them and one more. */
function delays(drawn: Omit<Drawn, 'nth'>): { readonly untold: number; readonly informed: number } {
  const labels = Array.from({ length: 6 }, (_, nth) => labelOf({ ...drawn, nth }));
  return {
    untold: mean(labels.map((label) => untoldLoads(label, LOADS_PER_SPINDLE_DAY) ?? LOADS + 1)),
    informed: mean(labels.map((label) => informedLoads(label, LOADS_PER_SPINDLE_DAY) ?? LOADS + 1)),
  };
}

test.each([
  ['own-unbalance-step', { ...USUAL, ownX: 4, ownY: 3 }, { ...USUAL, ownX: 8, ownY: 6 }],
  ['insert-lost', { ...USUAL, residualX: 5 }, { ...USUAL, residualX: 9 }],
  ['drawbar-falling', { ...USUAL, clampingGmm: 4 }, { ...USUAL, clampingGmm: 9 }],
  ['bench-scale-drifting', { ...USUAL, residualX: 5, residualY: 2.5 }, { ...USUAL, residualX: 8, residualY: 4 }],
  ['outer-race-growing', { ...USUAL, logFloor: 0.5 }, { ...USUAL, logFloor: 1 }],
] as const)('%s: no sooner than who is told the size as well, and sooner the larger it is', (kind, becomes, larger) => {
  const [small, large] = [delays({ kind, becomes }), delays({ kind, becomes: larger })];
  expect(small.untold).toBeGreaterThanOrEqual(small.informed - 0.5);
  expect(large.untold).toBeGreaterThanOrEqual(large.informed - 0.5);
  expect(large.untold).toBeLessThanOrEqual(small.untold);
  expect(large.untold).toBeLessThan(LOADS / 4);
});

test('where nothing is wrong it says so no more often than the aim lets it', () => {
  const nothing = { kind: 'own-unbalance-step', becomes: { ...USUAL, ownX: 4, ownY: 3 }, truly: USUAL } as const;
  const labels = Array.from({ length: 24 }, (_, nth) => labelOf({ ...nothing, nth }));
  // 1,440 loads at four a spindle-day are 360 spindle-days: 0.18 alarms are allowed.
  expect(labels.filter((label) => untoldLoads(label, LOADS_PER_SPINDLE_DAY) !== undefined).length).toBeLessThan(2);
});
