// A balance result as the rules keep it: raw index readings evaluated here, contradictions with given planes remarked.
import {
  differenceUnbalance,
  normaliseAngleDeg,
  resolveIndexing,
  turnsTellApart,
  type IndexingResult,
  type InterfaceScatter,
} from '../../shared/balance/index.ts';
import type { EntryOf } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { BalanceResult } from '../../shared/messages/index.ts';
import { amountWords } from '../../shared/wording.ts';
import type { BuildState, MeasuredPlaneState, MeasurementState, Stamp } from './floor.ts';
import { errorPartsOf, judge } from './judgement.ts';
import { CONTRADICTION_SHARE } from './limits.ts';
import { errorRemarks, resultRemarks } from './result-remarks.ts';

const PLANE_NAMES = ['A', 'B'];

/** Two standard deviations of the mean of so many readings: what the positions' scatter leaves unsure. Common practice. */
const SCATTER_SPREAD = 2;

interface Evaluated {
  readonly planes: readonly MeasuredPlaneState[];
  readonly indexed: boolean;
  readonly remarks: readonly string[];
}

interface PlaneName {
  readonly name: string;
  readonly positionMm: number | undefined;
}

function planeOfIndexing(named: PlaneName, split: IndexingResult, readings: number): MeasuredPlaneState {
  return {
    ...named,
    residualGmm: split.assembly.gmm,
    angleDeg: split.assembly.angleDeg,
    benchGmm: split.bench.gmm,
    benchAngleDeg: split.bench.angleDeg,
    scatterGmm: split.scatterGmm === null ? undefined : (SCATTER_SPREAD * split.scatterGmm) / Math.sqrt(readings),
  };
}

/** Evaluates raw readings plane by plane; undefined where their positions cannot tell assembly and bench apart. */
function evaluateReadings(data: BalanceResult): readonly MeasuredPlaneState[] | undefined {
  const { readings } = data;
  if (readings === undefined || !turnsTellApart(readings.map((reading) => reading.indexDeg))) return undefined;
  const count = readings[0]?.planes.length ?? 0;
  return Array.from({ length: count }, (_, index) => {
    const indexed = readings.flatMap(({ indexDeg, planes }) => {
      const plane = planes[index];
      return plane === undefined
        ? []
        : [{ turnDeg: indexDeg, unbalance: { gmm: plane.amountGmm, angleDeg: plane.angleDeg } }];
    });
    const given = data.planes?.[index];
    const name = given?.name ?? PLANE_NAMES[index] ?? String(index + 1);
    return planeOfIndexing(
      { name, positionMm: given?.positionMm },
      resolveIndexing(data.frame, indexed),
      indexed.length,
    );
  });
}

function givenPlanes(data: BalanceResult): readonly MeasuredPlaneState[] {
  return (data.planes ?? []).map((plane) => ({
    name: plane.name,
    residualGmm: plane.residualGmm,
    angleDeg: normaliseAngleDeg(plane.angleDeg),
    positionMm: plane.positionMm,
    benchGmm: undefined,
    benchAngleDeg: undefined,
    scatterGmm: undefined,
  }));
}

/** Where given planes and raw readings both came: what they disagree on, in words. */
function contradictions(data: BalanceResult, evaluated: readonly MeasuredPlaneState[]): readonly string[] {
  const given = data.planes;
  if (given === undefined) return [];
  if (given.length !== evaluated.length)
    return [say`${given.length} planes given, ${evaluated.length} in the raw readings; the raw readings are used`];
  return evaluated.flatMap((plane, index) => {
    const said = given[index];
    if (said === undefined) return [];
    const apart = differenceUnbalance(
      { gmm: plane.residualGmm, angleDeg: plane.angleDeg },
      { gmm: said.residualGmm, angleDeg: said.angleDeg },
    ).gmm;
    const allowed = Math.max(
      CONTRADICTION_SHARE * Math.max(plane.residualGmm, said.residualGmm),
      data.error?.smallestAchievableGmm ?? 0,
      plane.scatterGmm ?? 0,
    );
    if (apart <= allowed) return [];
    return [
      say`plane ${plane.name}: the raw readings give ${amountWords(plane.residualGmm)} g·mm at ${amountWords(plane.angleDeg)}°, the result says ${amountWords(said.residualGmm)} g·mm at ${amountWords(normaliseAngleDeg(said.angleDeg))}°; the raw readings are used`,
    ];
  });
}

/** The planes that count: from the raw readings where they can be evaluated, else as given; undefined where neither. */
export function evaluatePlanes(data: BalanceResult): Evaluated | undefined {
  const evaluated = evaluateReadings(data);
  if (evaluated !== undefined) return { planes: evaluated, indexed: true, remarks: contradictions(data, evaluated) };
  const planes = givenPlanes(data);
  if (planes.length === 0) return undefined;
  const remarks =
    data.readings === undefined
      ? []
      : [say`the raw readings were not turned far enough apart to be evaluated; the planes given are used`];
  return { planes, indexed: false, remarks };
}

/** What a result is judged with beside its build: the plant's own figures, and why its bench is in doubt. */
export interface Circumstances {
  readonly interfaces: readonly InterfaceScatter[];
  readonly inDoubt: string | undefined;
}

export const NOTHING_SPECIAL: Circumstances = { interfaces: [], inDoubt: undefined };

/** Undefined where nothing in the result can be evaluated: that is remarked and kept, but judges nothing. */
export function measurementOf(
  entry: EntryOf<'result'>,
  stamp: Stamp,
  build: BuildState | undefined,
  { interfaces, inDoubt }: Circumstances = NOTHING_SPECIAL,
): MeasurementState | undefined {
  const { data } = entry;
  const evaluated = evaluatePlanes(data);
  if (evaluated === undefined) return undefined;
  const facts = {
    planes: evaluated.planes,
    error: data.error,
    massKg: data.massKg,
    serviceSpeedRpm: data.serviceSpeedRpm,
    gradeMmS: data.gradeMmS,
  };
  const judgement = judge(facts, build, interfaces);
  return {
    position: entry.position,
    at: entry.at,
    stamp,
    bench: entry.device,
    buildId: data.buildId,
    stage: data.stage,
    indexed: evaluated.indexed,
    measuredAtRpm: data.measuredAtRpm,
    // Copied, so that it takes the room of what is in it and no more: it is remembered for long.
    remarks: [
      ...evaluated.remarks,
      ...resultRemarks(data, build, judgement),
      ...errorRemarks(data, errorPartsOf({ ...facts, judgement }, build, interfaces)),
    ].slice(),
    ...facts,
    judgement,
    worse: undefined,
    inDoubt,
    voided: false,
  };
}
