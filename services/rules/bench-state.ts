// A bench's checks as they come, and what its index readings say of its own spindle and adapter.
import { differenceUnbalance, sumUnbalance } from '../../shared/balance/index.ts';
import type { EntryOf } from '../../shared/entries.ts';
import type { Proof } from '../../shared/messages/index.ts';
import type { BenchState, MeasurementState, OwnPartPoint, ProofState, TestState } from './floor.ts';
import { OWN_PARTS_PER_BENCH_MAX, PROOFS_PER_BENCH_MAX, TESTS_PER_BENCH_MAX } from './limits.ts';

export function newBench(bench: string): BenchState {
  return {
    bench,
    state: 'reporting',
    lastResultAt: undefined,
    proofs: [],
    tests: [],
    ownPart: [],
    calibratedUntil: undefined,
    calibrationLifted: undefined,
    lastGood: undefined,
    doubts: [],
    believedAgain: undefined,
  };
}

/** How far the plane of a proving rotor that is farthest off lies from what is expected, as vectors; ISO 21940-21. */
export function proofOff({ planes, expected }: Proof): { readonly plane: string; readonly offGmm: number } {
  let farthest = { plane: planes[0]?.name ?? '', offGmm: 0 };
  for (const [index, plane] of planes.entries()) {
    const wanted = expected.find((one) => one.name === plane.name) ?? expected[index];
    const { gmm } = differenceUnbalance(
      { gmm: plane.residualGmm, angleDeg: plane.angleDeg },
      { gmm: wanted?.residualGmm ?? 0, angleDeg: wanted?.angleDeg ?? 0 },
    );
    if (gmm > farthest.offGmm) farthest = { plane: plane.name, offGmm: gmm };
  }
  return farthest;
}

function scaleOf({ planes, expected }: Proof): number {
  const ratios = planes.flatMap((plane, index) => {
    const wanted = expected.find((one) => one.name === plane.name) ?? expected[index];
    return wanted === undefined || wanted.residualGmm === 0 ? [] : [plane.residualGmm / wanted.residualGmm];
  });
  return ratios.length === 0 ? 1 : ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
}

export function withProof(bench: BenchState, { at, position, data }: EntryOf<'proof'>): BenchState {
  const { offGmm } = proofOff(data);
  const { rotorSerial, toleranceGmm } = data;
  const within = offGmm <= toleranceGmm;
  const proof: ProofState = { at, position, rotorSerial, offGmm, toleranceGmm, scale: scaleOf(data), within };
  return { ...bench, proofs: [...bench.proofs, proof].slice(-PROOFS_PER_BENCH_MAX) };
}

/** The last message of a test replaces those before it. */
export function withTest(bench: BenchState, { at, position, data }: EntryOf<'test'>): BenchState {
  const test: TestState = { at, position, data };
  const others = bench.tests.filter((one) => one.data.testId !== data.testId);
  return { ...bench, tests: [...others, test].slice(-TESTS_PER_BENCH_MAX) };
}

/** The bench's own part as eccentricity, the same for light and heavy assemblies; undefined where it was not told apart. */
export function ownPartOf({ at, position, planes, judgement }: MeasurementState): OwnPartPoint | undefined {
  const { massKg } = judgement;
  if (massKg === undefined) return undefined;
  const parts = planes.flatMap(({ benchGmm, benchAngleDeg }) =>
    benchGmm === undefined || benchAngleDeg === undefined ? [] : [{ gmm: benchGmm, angleDeg: benchAngleDeg }],
  );
  if (parts.length !== planes.length) return undefined;
  const { gmm, angleDeg } = sumUnbalance(parts);
  return { at, position, um: gmm / massKg, angleDeg };
}

export function withResultOf(bench: BenchState, at: number, measurement: MeasurementState | undefined): BenchState {
  const own = measurement === undefined ? undefined : ownPartOf(measurement);
  const ownPart = own === undefined ? bench.ownPart : [...bench.ownPart, own].slice(-OWN_PARTS_PER_BENCH_MAX);
  return { ...bench, lastResultAt: at, ownPart };
}
