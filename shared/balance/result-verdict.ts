// Judges a whole balance result: one plane as it is, two planes by their vector sum and each against its share.
import { allocateToPlanes, type PlaneAllocation, type PlaneGeometry } from './planes.ts';
import { permissibleResidualGmm, type BalanceDemand } from './permissible.ts';
import { sumUnbalance, turnUnbalance, type UnbalanceVector } from './vector.ts';
import { judgeResidual, type Verdict } from './verdict.ts';

/** One measured plane with its measuring error ΔU in g·mm. */
export interface MeasuredPlane {
  readonly unbalance: UnbalanceVector;
  readonly errorGmm: number;
}

/** What a bench measured. `staticErrorGmm` is the ΔU of the vector sum; null: both planes' errors added up. */
export type MeasuredResult =
  | { readonly kind: 'one-plane'; readonly plane: MeasuredPlane }
  | {
      readonly kind: 'two-planes';
      readonly planeA: MeasuredPlane;
      readonly planeB: MeasuredPlane;
      readonly staticErrorGmm: number | null;
    };

/** A result, what it must meet, where the planes lie (null: not known) and the interface's least scatter in µm. */
export interface ResultQuestion {
  readonly result: MeasuredResult;
  readonly demand: BalanceDemand;
  readonly geometry: PlaneGeometry | null;
  readonly reclampingUm: number | null;
}

/** What a verdict is about: the whole assembly, or one plane's share of it. */
export type JudgedPart = 'whole' | 'plane-a' | 'plane-b';

/** The verdict on a result with the verdicts it was made of. */
export interface ResultVerdict {
  /** The worst of the parts: exceeds before undecided before within. */
  readonly kind: Verdict['kind'];
  /** The part that decides: of the worst kind, the one farthest out with ΔU counted. */
  readonly governedBy: JudgedPart;
  readonly governing: Verdict;
  readonly parts: readonly { readonly part: JudgedPart; readonly verdict: Verdict }[];
  /** Null for one plane. */
  readonly allocation: PlaneAllocation | null;
  /** The grade that every part reaches with ΔU counted, mm/s. */
  readonly gradeReachedWithErrorMmS: number;
  /** The speed up to which every part meets the grade with ΔU counted, rpm; null when balance sets no bound. */
  readonly highestSpeedWithErrorRpm: number | null;
}

/**
 * The whole residual of a result: |U| in one plane, the vector sum of both planes in two (ISO 21940-2: the static
 * unbalance). Throws a RangeError for a negative amount or a non-finite number.
 */
export function wholeResidual(result: MeasuredResult): UnbalanceVector {
  // A single plane keeps its amount to the last bit: it is not sent through sine and cosine.
  if (result.kind === 'one-plane') return turnUnbalance(result.plane.unbalance, 0);
  return sumUnbalance([result.planeA.unbalance, result.planeB.unbalance]);
}

const SEVERITY = { within: 0, undecided: 1, exceeds: 2 } as const satisfies Record<Verdict['kind'], number>;

/** Whether a lies farther out than b. */
function isWorse(a: Verdict, b: Verdict): boolean {
  if (a.kind !== b.kind) return SEVERITY[a.kind] > SEVERITY[b.kind];
  return a.factorWithError > b.factorWithError;
}

type Part = ResultVerdict['parts'][number];

function partsOf(question: ResultQuestion, allocation: PlaneAllocation | null): readonly [Part, ...Part[]] {
  const { result, demand, reclampingUm } = question;
  const residualGmm = wholeResidual(result).gmm;
  if (result.kind === 'one-plane' || allocation === null) {
    const errorGmm = result.kind === 'one-plane' ? result.plane.errorGmm : staticError(result);
    return [{ part: 'whole', verdict: judgeResidual({ demand, residualGmm, errorGmm, reclampingUm }) }];
  }
  // A plane's share of the limit is the limit of that share of the mass, so all its figures follow in the same way.
  const planeVerdict = (plane: MeasuredPlane, share: number): Verdict =>
    judgeResidual({
      demand: { ...demand, massKg: demand.massKg * share },
      residualGmm: plane.unbalance.gmm,
      errorGmm: plane.errorGmm,
      reclampingUm,
    });
  return [
    { part: 'whole', verdict: judgeResidual({ demand, residualGmm, errorGmm: staticError(result), reclampingUm }) },
    { part: 'plane-a', verdict: planeVerdict(result.planeA, allocation.shareA) },
    { part: 'plane-b', verdict: planeVerdict(result.planeB, allocation.shareB) },
  ];
}

function staticError(result: Extract<MeasuredResult, { kind: 'two-planes' }>): number {
  return result.staticErrorGmm ?? result.planeA.errorGmm + result.planeB.errorGmm;
}

/**
 * Judges a result as a whole and, in two planes, each plane against its share as well: a pure couple has no static
 * residual at all and loads the bearings none the less.
 * Source: ISO 21940-11 and ISO 21940-14; the bounds of the shares from memory.
 * Throws a RangeError for a negative or non-finite number, a mass, speed or grade not above 0, or coinciding planes.
 */
export function judgeResult(question: ResultQuestion): ResultVerdict {
  const allocation =
    question.result.kind === 'two-planes'
      ? allocateToPlanes(permissibleResidualGmm(question.demand), question.geometry)
      : null;
  const parts = partsOf(question, allocation);
  const governing = parts.reduce((worst, part) => (isWorse(part.verdict, worst.verdict) ? part : worst), parts[0]);
  const speedsRpm = parts.flatMap(({ verdict }) => verdict.highestSpeedWithErrorRpm ?? []);
  return {
    kind: governing.verdict.kind,
    governedBy: governing.part,
    governing: governing.verdict,
    parts,
    allocation,
    gradeReachedWithErrorMmS: Math.max(...parts.map(({ verdict }) => verdict.gradeReachedWithErrorMmS)),
    highestSpeedWithErrorRpm: speedsRpm.length === 0 ? null : Math.min(...speedsRpm),
  };
}
