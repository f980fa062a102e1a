// A bench as the tool room sees it: what its checks said, when it is due, what its own part does, what its doubt touches.
import { evaluateBenchTest, ownPartDrift } from '../../../shared/bench-health/index.ts';
import { say } from '../../../shared/language/index.ts';
import { individualsChart } from '../../../shared/statistics/index.ts';
import { MILLISECONDS_A_DAY, type Instant } from '../../../shared/time.ts';
import type { BenchTestView, BenchView } from '../../../shared/tool-room.ts';
import { baseLayer, touchedBy, type BenchState, type Floor } from '../../rules/index.ts';
import { defined } from './defined.ts';

/** Before its end a calibration is due soon. Common practice, no source. */
export const CALIBRATION_DUE_SOON_MS = 30 * MILLISECONDS_A_DAY;

export function benchView(floor: Floor, bench: BenchState, now: Instant): BenchView {
  const { doubts, lastGood, calibratedUntil, ownPart } = bench;
  const since = doubts.length === 0 ? undefined : Math.min(...doubts.map((doubt) => doubt.since));
  const { assemblies, spindles } = touchedBy(baseLayer(floor), bench.bench);
  return {
    bench: bench.bench,
    state: bench.state,
    ...trustOf(bench),
    calibration: calibrationOf(calibratedUntil, now),
    proofs: proofChart(bench),
    tests: bench.tests.map(testView).toReversed(),
    ownPart: ownPart.map((point) => ({ ...point })),
    touched: { assemblies: [...assemblies], spindles: [...spindles] },
    ...defined({
      lastResultAt: bench.lastResultAt,
      lastGoodCheckAt: lastGood?.at,
      // From the beginning, where no check was good before.
      inDoubtSince: since === 0 ? undefined : since,
      calibratedUntil,
      drift: ownPartDrift(ownPart)?.sentence,
    }),
  };
}

export function trustOf(bench: BenchState): Pick<BenchView, 'trust' | 'sentence'> {
  const { doubts, lastGood } = bench;
  const trust = doubts.length > 0 ? 'in-doubt' : lastGood === undefined ? 'not-shown' : 'shown';
  return { trust, sentence: trustWords(bench) };
}

function trustWords({ doubts, lastGood, proofs }: BenchState): string {
  if (doubts.length > 0) return say`In doubt: ${doubts.map((doubt) => doubt.why).join('; ')}.`;
  if (lastGood === undefined) return say`No check of it has passed yet: nothing here shows that it tells the truth.`;
  const isProof = proofs.some((proof) => proof.position === lastGood.position);
  return isProof
    ? say`The proving rotor read within its tolerance at the last check.`
    : say`It passed the last test of it that was finished.`;
}

function calibrationOf(until: Instant | undefined, now: Instant): BenchView['calibration'] {
  if (until === undefined) return 'not-told';
  if (now > until) return 'overdue';
  return until - now <= CALIBRATION_DUE_SOON_MS ? 'due-soon' : 'in-date';
}

function proofChart({ proofs }: BenchState): BenchView['proofs'] {
  const { limits, points } = individualsChart(proofs.map((proof) => proof.scale));
  return {
    points: proofs.map((proof, index) => ({ ...proof, unusual: points[index]?.beyond ?? false })),
    ...defined({
      centre: limits?.centre,
      lower: limits?.lower,
      upper: limits?.upper,
      rangeUpper: limits?.rangeUpper,
      madeOf: limits?.madeOf,
    }),
  };
}

function testView({ at, position, data }: BenchState['tests'][number]): BenchTestView {
  const { testId, test, rotorSerial, plane } = data;
  const { verdict, sentence, steps, source } = evaluateBenchTest(data);
  return {
    testId,
    test,
    at,
    position,
    rotorSerial,
    verdict,
    sentence,
    steps: steps.map((step) => ({ ...step })),
    source,
    ...defined({ plane }),
  };
}
