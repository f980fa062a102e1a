// What the benches of the past have to tell of themselves: tests with masses, and one that drifted until it was calibrated.
import { differenceUnbalance, sumUnbalance } from '../shared/balance/index.ts';
import type { BenchTest } from '../shared/messages/index.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR, type Instant } from '../shared/time.ts';
import { rounded, type SimulatedBench } from './bench.ts';
import type { PlannedEvent } from './events.ts';
import type { Fault } from './faults.ts';
import type { Overlay } from './overlay.ts';
import type { Plant } from './plant.ts';
import { prngOf, type Prng } from './prng.ts';
import { benchFor } from './bench-jobs.ts';
import { exceedingIn, SHIFT_MS, shiftOf } from './tool-room.ts';

/** A past shorter than this has no room for the drift. */
const DAYS_MIN = 60;
const DRIFT_DAYS = 3;
/** Grows to this share within so long: the proving rotor misses its tolerance on the second or third day. */
const DRIFT_SHARE = 0.07;
/** Days before the end among which a stretch is looked for in which this bench has nothing on hold to release. */
const DRIFT_LOOKED_FOR = { from: 46, to: 24 } as const;
const PLACES_DEG = Array.from({ length: 12 }, (_, nth) => nth * 30);
const CLAIM = { minimumGmm: 0.3, percent: 95, stationaryGmm: 4 } as const;

export function benchHistory(
  plant: Plant,
  { until, days }: { readonly until: Instant; readonly days: number },
): Overlay {
  const [first, second] = plant.benches;
  if (first === undefined || second === undefined || days < DAYS_MIN) return { borrows: [], events: [], faults: [] };
  const at = (daysBefore: number): Instant => until - daysBefore * MILLISECONDS_A_DAY;
  const drift = driftOf(plant, first, until);
  const events = [
    ...[first, second].flatMap((bench) => [
      tested(plant, bench, { at: at(days - 8), test: minimumAchievable, places: 12 }),
      tested(plant, bench, { at: at(days - 8) + MILLISECONDS_AN_HOUR, test: reductionRatio, places: 12 }),
    ]),
    ...(drift === undefined
      ? []
      : [tested(plant, first, { at: drift.to + 2 * MILLISECONDS_AN_HOUR, test: minimumAchievable, places: 12 })]),
    tested(plant, second, { at: at(1.5), test: reductionRatio, places: 7 }),
  ];
  return { borrows: [], events, faults: drift === undefined ? [] : [drift] };
}

/** Looked for where no build waits for this bench's word to be released. */
function driftOf(plant: Plant, bench: SimulatedBench, until: Instant): Fault | undefined {
  for (let day = DRIFT_LOOKED_FOR.from; day >= DRIFT_LOOKED_FOR.to; day -= 1) {
    const from = Math.floor((until - day * MILLISECONDS_A_DAY) / MILLISECONDS_A_DAY) * MILLISECONDS_A_DAY;
    const to = from + DRIFT_DAYS * MILLISECONDS_A_DAY;
    if (holdsWait(plant, bench, { from: from - MILLISECONDS_A_DAY, to: to + MILLISECONDS_A_DAY })) continue;
    const subject = { kind: 'bench', id: bench.device } as const;
    const growsMs = 2 * MILLISECONDS_A_DAY;
    return { kind: 'bench-scale-drifting', subject, from, to, size: DRIFT_SHARE, growsMs };
  }
  return undefined;
}

function holdsWait(plant: Plant, bench: SimulatedBench, { from, to }: { from: Instant; to: Instant }): boolean {
  const own = new Set(plant.assemblies.filter((one) => benchFor(plant, one) === bench).map((one) => one.assemblyId));
  for (let shift = shiftOf(from); shift * SHIFT_MS < to; shift += 1) {
    if (exceedingIn(plant, shift).some(({ subject }) => own.has(subject.id))) return true;
  }
  return false;
}

interface Planned {
  readonly at: Instant;
  readonly test: (bench: SimulatedBench, places: readonly number[], prng: Prng) => BenchTest;
  /** How many of the twelve places were read. */
  readonly places: number;
}

function tested(plant: Plant, bench: SimulatedBench, { at, test, places }: Planned): PlannedEvent {
  const time = Math.round(at);
  const data = test(bench, PLACES_DEG.slice(0, places), prngOf(plant.seed, 'test', bench.device, time));
  const day = Math.floor(time / MILLISECONDS_A_DAY);
  return {
    channel: 'test',
    time,
    device: bench.device,
    subject: `bench/${bench.device}`,
    data: { ...data, testId: `${bench.device}-${data.test}-${day}` },
  };
}

function minimumAchievable(bench: SimulatedBench, places: readonly number[], prng: Prng): BenchTest {
  const testMassGmm = 10 * CLAIM.minimumGmm;
  return {
    test: 'minimum-achievable',
    testId: '',
    rotorSerial: bench.provingRotor,
    plane: 'P1',
    claimedGmm: CLAIM.minimumGmm,
    testMassGmm,
    readings: places.map((angleDeg) => ({
      angleDeg,
      amountGmm: rounded(testMassGmm * bench.scale + bench.noiseGmm * prng.gaussian(), 3),
    })),
  };
}

function reductionRatio(bench: SimulatedBench, places: readonly number[], prng: Prng): BenchTest {
  const stationary = { amountGmm: CLAIM.stationaryGmm, angleDeg: 15 };
  const travellingGmm = 5 * CLAIM.stationaryGmm;
  return {
    test: 'reduction-ratio',
    testId: '',
    rotorSerial: bench.provingRotor,
    plane: 'P1',
    claimedPercent: CLAIM.percent,
    stationary,
    travellingGmm,
    readings: places.map((travellingDeg) => {
      const both = sumUnbalance([
        { gmm: stationary.amountGmm, angleDeg: stationary.angleDeg },
        { gmm: travellingGmm, angleDeg: travellingDeg },
      ]);
      const noise = { gmm: bench.noiseGmm * Math.abs(prng.gaussian()), angleDeg: prng.between(0, 360) };
      const read = differenceUnbalance(both, noise);
      return {
        travellingDeg,
        amountGmm: rounded(read.gmm * bench.scale, 3),
        angleDeg: rounded(read.angleDeg, 1) % 360,
      };
    }),
  };
}
