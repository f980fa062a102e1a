// Whether a bench is to be believed: what puts it in doubt, what ends that, and which of its results the doubt touches.
import { evaluateBenchTest } from '../../shared/bench-health/index.ts';
import { say } from '../../shared/language/index.ts';
import type { BenchTest, Proof } from '../../shared/messages/index.ts';
import type { Instant } from '../../shared/time.ts';
import { amountWords, instantWords } from '../../shared/wording.ts';
import { proofOff } from './bench-state.ts';
import { happenedBefore, orderOf } from './clock.ts';
import type { BenchState, DoubtCause, DoubtState, GoodCheck, MeasurementState, Stamp } from './floor.ts';
import type { Layer } from './layer.ts';

/** What a check says of its bench; undefined where it says nothing yet. */
export type CheckSaid =
  | { readonly cause: DoubtCause; readonly good: true }
  | { readonly cause: DoubtCause; readonly good: false; readonly why: string };

export function proofSays(data: Proof): CheckSaid {
  const { plane, offGmm } = proofOff(data);
  if (offGmm <= data.toleranceGmm) return { cause: 'proof', good: true };
  const why = say`the proving rotor reads ${amountWords(offGmm)} g·mm off in plane ${plane}, ${amountWords(data.toleranceGmm)} g·mm are allowed`;
  return { cause: 'proof', good: false, why };
}

export function testSays(data: BenchTest): CheckSaid | undefined {
  const { verdict, sentence } = evaluateBenchTest(data);
  switch (verdict) {
    case 'passed':
      return { cause: data.test, good: true };
    case 'failed':
      return {
        cause: data.test,
        good: false,
        why: say`the ${TEST_NAMES[data.test]} failed as ${claimMissed(sentence)}`,
      };
    case 'unfinished':
    case 'not-valid':
      return undefined;
  }
}

/** The first sentence of what a test says, to stand within another; all of it stands with the test. */
function claimMissed(sentence: string): string {
  const [first = ''] = sentence.replace(/^Failed: /, '').split('. ');
  return CLAIMS_MISSED.map((told) => told(first)).find((words) => words !== undefined) ?? first.replace(/\.$/, '');
}

/** Said by itself each, for without its beginning and its end it is a text of its own. */
const CLAIMS_MISSED: readonly ((first: string) => string | undefined)[] = [
  (first) =>
    first.startsWith('the bench reads nothing of the test mass')
      ? say`the bench reads nothing of the test mass`
      : undefined,
  (first) => {
    const [, claim, outside, all] =
      /^the claim of (\S+) g·mm is not shown; (\d+) of (\d+) readings outside ±12 % of their mean, one may be\.?$/.exec(
        first,
      ) ?? [];
    return claim === undefined || outside === undefined || all === undefined
      ? undefined
      : say`the claim of ${claim} g·mm is not shown; ${outside} of ${all} readings outside ±12 % of their mean, one may be`;
  },
  (first) => {
    const [, claim, outside, all] =
      /^a reduction ratio of (\S+) % is not shown; (\d+) of (\d+) readings lie outside their circles\.?$/.exec(first) ??
      [];
    return claim === undefined || outside === undefined || all === undefined
      ? undefined
      : say`a reduction ratio of ${claim} % is not shown; ${outside} of ${all} readings lie outside their circles`;
  },
];

const TEST_NAMES: Record<BenchTest['test'], string> = {
  'minimum-achievable': say`test of the minimum achievable residual`,
  'reduction-ratio': say`test of the unbalance reduction ratio`,
};

interface Check {
  readonly at: Instant;
  readonly position: number;
  readonly stamp: Stamp;
}

/** Made before another, or nobody can tell: for the better it counts only where it certainly came after. */
function isOlder(check: Check, than: Pick<GoodCheck, 'stamp'> | undefined): boolean {
  return than?.stamp !== undefined && orderOf(check.stamp, than.stamp) !== 'after';
}

export function foldCheck(layer: Layer, bench: BenchState, check: Check, said: CheckSaid): void {
  if (said.good) layer.putBench(passed(bench, check, said.cause));
  else fail(layer, bench, check, said);
}

/** Certainly made before another: for the worse it counts unless that is proven. */
function isProvenOlder(check: Check, than: Pick<GoodCheck, 'stamp'> | undefined): boolean {
  return than?.stamp !== undefined && happenedBefore(check.stamp, than.stamp);
}

function passed(bench: BenchState, check: Check, cause: DoubtCause): BenchState {
  const doubts = bench.doubts.filter((doubt) => doubt.cause !== cause || isOlder(check, doubt));
  const lastGood = isOlder(check, bench.lastGood) ? bench.lastGood : check;
  const believed = bench.doubts.length > 0 && doubts.length === 0;
  return { ...bench, lastGood, doubts, believedAgain: believed ? check : bench.believedAgain };
}

/** Its results since the last good check are marked; they stay on record and stay in force. */
function fail(layer: Layer, bench: BenchState, check: Check, said: Extract<CheckSaid, { good: false }>): void {
  if (isProvenOlder(check, bench.lastGood)) return layer.putBench(bench);
  const { lastGood } = bench;
  const { cause, why } = said;
  const doubt: DoubtState = { cause, ...check, since: lastGood?.at ?? 0, why };
  const known = bench.doubts.find((one) => one.cause === cause);
  const doubts =
    known === undefined
      ? [...bench.doubts, doubt]
      : bench.doubts.map((one) => (one === known ? { ...doubt, since: known.since } : one));
  layer.putBench({ ...bench, doubts });
  const since = lastGood?.position ?? 0;
  mark(layer, bench.bench, (one) => (one.position > since ? (one.inDoubt ?? why) : one.inDoubt));
}

/** The calibration that ended, where nobody was told yet and no person set it aside. */
export function overdueCalibration(bench: BenchState, now: Instant): Instant | undefined {
  const { calibratedUntil, calibrationLifted, doubts } = bench;
  if (calibratedUntil === undefined || now <= calibratedUntil || calibratedUntil === calibrationLifted)
    return undefined;
  return doubts.some((doubt) => doubt.cause === 'calibration') ? undefined : calibratedUntil;
}

/** From the day on which the calibration ended; what was measured before it was measured in calibration. */
export function foldOverdue(layer: Layer, bench: BenchState, now: Pick<Check, 'at' | 'position'>): void {
  const until = overdueCalibration(bench, now.at);
  if (until === undefined) return;
  const why = say`its calibration ended on ${instantWords(until)}`;
  const doubt: DoubtState = { cause: 'calibration', ...now, stamp: undefined, since: until, why };
  layer.putBench({ ...bench, doubts: [...bench.doubts, doubt] });
  mark(layer, bench.bench, (one) => (one.stamp.measuredAt > until ? (one.inDoubt ?? why) : one.inDoubt));
}

/** A calibration told anew ends the doubt that the old one left; one that is over as it is told is in doubt at once. */
export function foldCalibration(layer: Layer, bench: BenchState, until: Instant, check: Check): void {
  const told = { ...bench, calibratedUntil: until };
  if (until <= check.at) {
    layer.putBench(told);
    foldOverdue(layer, told, check);
    return;
  }
  const doubts = bench.doubts.filter((doubt) => doubt.cause !== 'calibration');
  const believed = bench.doubts.length > 0 && doubts.length === 0;
  layer.putBench({ ...told, doubts, believedAgain: believed ? check : bench.believedAgain });
}

/** A person answers for it: its results count again, those before as well. */
export function foldDoubtLifted(layer: Layer, bench: BenchState): void {
  const isCalibration = bench.doubts.some((doubt) => doubt.cause === 'calibration');
  const calibrationLifted = isCalibration ? bench.calibratedUntil : bench.calibrationLifted;
  layer.putBench({ ...bench, doubts: [], calibrationLifted, believedAgain: undefined });
  mark(layer, bench.bench, () => undefined);
}

/** Why a result of this bench is in doubt as it comes; undefined where it is not. */
export function doubtOf(bench: BenchState | undefined, stamp: Stamp): string | undefined {
  if (bench === undefined) return undefined;
  const [doubt] = bench.doubts;
  if (doubt !== undefined) return doubt.why;
  return bench.believedAgain?.stamp !== undefined && orderOf(stamp, bench.believedAgain.stamp) !== 'after'
    ? say`it was measured before its bench passed its check again`
    : undefined;
}

/** Everything that is remembered of a bench's results is looked at: it happens seldom. */
function mark(layer: Layer, bench: string, doubtFor: (measurement: MeasurementState) => string | undefined): void {
  for (const assemblyId of layer.floor.assemblies.keys()) {
    const assembly = layer.assembly(assemblyId);
    if (assembly === undefined) continue;
    let touched = false;
    const measurements = assembly.measurements.map((one) => {
      if (one.bench !== bench) return one;
      const inDoubt = doubtFor(one);
      if (inDoubt === one.inDoubt) return one;
      touched = true;
      return { ...one, inDoubt };
    });
    if (touched) layer.putAssembly({ ...assembly, measurements });
  }
}
