// Builds that leave the bench better than they came: what was measured first, what was done, and what is left of it.
import { adviseCorrection, type PlaneToCorrect } from '../shared/correction/index.ts';
import type { SimulatedAssembly } from './assemblies.ts';
import { permissibleUm, planeNames, splitOverPlanes } from './bench.ts';
import { follow, type Followed } from './operator.ts';
import { added, amountOf, angleOf, rotating, scaled, type Rotating } from './physics.ts';
import type { Prng } from './prng.ts';

/** The heavy spot lies within so far of where the residual is left, so that what is left makes nothing smaller. */
const SPREAD_DEG = 60;

/** Of what is permissible: so much may a plan leave. */
const AIM_SHARE = 0.1;

export interface CorrectedBuild {
  /** Before the correction, by plane. */
  readonly beforeGmm: readonly Rotating[];
  readonly followed: Followed;
}

export interface Wanted {
  readonly assembly: SimulatedAssembly;
  readonly buildId: string;
  /** What the correction leaves: the build's own residual. */
  readonly residualGmm: Rotating;
  /** About how much there is before. */
  readonly amountGmm: number;
}

/**
 * Worked backwards from what is left: what was there before is that less what was really done, and what was done is the
 * advice for about as much. Undefined where no place takes it.
 */
export function correctedBuild(wanted: Wanted, prng: Prng): CorrectedBuild | undefined {
  const known = KNOWN.get(wanted.assembly) ?? new Map<string, CorrectedBuild | undefined>();
  KNOWN.set(wanted.assembly, known);
  const key = `${wanted.buildId} ${wanted.amountGmm}`;
  if (!known.has(key)) known.set(key, workedBackwards(wanted, prng));
  return known.get(key);
}

/** A shift is asked about several times, and advice is the dearest part of it. */
const KNOWN = new WeakMap<SimulatedAssembly, Map<string, CorrectedBuild | undefined>>();

function workedBackwards(wanted: Wanted, prng: Prng): CorrectedBuild | undefined {
  const { assembly, buildId, residualGmm, amountGmm } = wanted;
  const heavy = rotating(amountGmm, angleOf(residualGmm) + prng.between(-SPREAD_DEG, SPREAD_DEG));
  const permissibleGmm = AIM_SHARE * permissibleUm(assembly) * assembly.massKg;
  const planes = planeNames(assembly);
  const taken = scaled(added(heavy, scaled(residualGmm, -1)), 1 / planes.length);
  const [first, second] = planes.map((name): PlaneToCorrect => ({
    name,
    unbalance: { gmm: amountOf(taken), angleDeg: angleOf(taken) },
    errorGmm: 0,
    permissibleGmm: permissibleGmm / planes.length,
    positionMm: null,
  }));
  if (first === undefined) return undefined;
  const advice = adviseCorrection({
    planes: second === undefined ? [first] : [first, second],
    wholeErrorGmm: 0,
    wholePermissibleGmm: permissibleGmm,
    centreOfMassMm: null,
    features: assembly.features,
  });
  const followed = follow(advice, assembly.features, { planes, prng });
  if (followed === undefined) return undefined;
  const left = splitOverPlanes(assembly, buildId, residualGmm);
  return {
    beforeGmm: left.map((plane, nth) => added(plane, scaled(followed.changesGmm[nth] ?? { x: 0, y: 0 }, -1))),
    followed,
  };
}
