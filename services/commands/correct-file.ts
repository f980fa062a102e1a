// What counterpoise correct is asked: places to correct from a file, what was measured and what is demanded from flags or file.
import * as z from 'zod';
import { allocateToPlanes, permissibleResidualGmm, type UnbalanceVector } from '../../shared/balance/index.ts';
import type { CorrectionQuestion, PlaneToCorrect } from '../../shared/correction/index.ts';
import { PLAIN } from '../../shared/fault-words.ts';
import { CorrectionFeature, FEATURES_MAX } from '../../shared/messages/index.ts';
import { AngleDeg, GradeMmS, MassKg, PositionMm, SpeedRpm, UnbalanceGmm } from '../../shared/quantity.ts';
import { densityOf, referenceTables } from '../../shared/reference/index.ts';
import { demandOf, massRemarks, ownReference, readData } from './balance-flags.ts';
import type { FlagReader } from './calculation-options.ts';
import { faultsOf } from './file-faults.ts';
import { unknownKeys } from './unknown-keys.ts';
import { ValueFault } from './value-units.ts';

const Features = z.array(CorrectionFeature).max(FEATURES_MAX);
const Measured = z.object({
  name: z.string().min(1).max(20),
  residualGmm: UnbalanceGmm,
  angleDeg: AngleDeg,
  errorGmm: UnbalanceGmm.default(0),
  positionMm: PositionMm.optional(),
});
const Asked = z.object({
  features: Features,
  planes: z.array(Measured).min(1).max(2).optional(),
  centreOfMassMm: PositionMm.optional(),
  massKg: MassKg.optional(),
  serviceSpeedRpm: SpeedRpm.optional(),
  gradeMmS: GradeMmS.optional(),
});
type Asked = z.infer<typeof Asked>;

export interface AskedCorrection {
  readonly question: CorrectionQuestion;
  /** What cannot be meant of it. */
  readonly remarks: readonly string[];
}

/** A list of features, or an object with them and what was measured. Throws a ValueFault that says where it is wrong. */
export function questionOf(read: FlagReader, path: string): AskedCorrection {
  const data = readData(path, 'the file');
  const asked = parsed(withDensities(read, Array.isArray(data) ? { features: data as unknown[] } : data), path);
  const whole = permissibleOf(read, asked);
  const measured = measuredOf(read, asked);
  const positions = measured.map(({ positionMm }) => positionMm);
  const centreOfMassMm = read.value('centre-of-mass', 'length') ?? asked.centreOfMassMm ?? null;
  const shares = sharesOf(whole, positions, centreOfMassMm);
  const planes = measured.map((plane, i): PlaneToCorrect => ({ ...plane, permissibleGmm: shares[i] ?? null }));
  const [first, second] = planes;
  if (first === undefined)
    throw new ValueFault(
      '--unbalance: expected an amount at an angle such as 12gmm@133, or planes in the file; it is missing',
    );
  const question: CorrectionQuestion = {
    planes: second === undefined ? [first] : [first, second],
    wholeErrorGmm: Math.hypot(...planes.map(({ errorGmm }) => errorGmm)),
    wholePermissibleGmm: whole,
    centreOfMassMm,
    features: asked.features,
  };
  const massKg = read.value('mass', 'mass') ?? asked.massKg;
  return { question, remarks: massKg === undefined ? [] : massRemarks(massKg, read.system) };
}

/** A place may name its material instead of a density: looked up in the reference, the plant's own rows first. */
function withDensities(read: FlagReader, data: unknown): unknown {
  if (!isObject(data) || !Array.isArray(data['features'])) return data;
  const features: readonly unknown[] = data['features'];
  return { ...data, features: features.map((feature, index) => withDensity(read, feature, index)) };
}

function withDensity(read: FlagReader, feature: unknown, index: number): unknown {
  if (!isObject(feature) || typeof feature['material'] !== 'string' || feature['densityGCm3'] !== undefined)
    return feature;
  const own = ownReference(read);
  const row = densityOf(feature['material'], own);
  if (row !== null) return { ...feature, densityGCm3: row.densityGCm3 };
  const known = referenceTables(own).densities.map(({ material }) => material);
  throw new ValueFault(
    `features.${index}.material: nothing is known of ${JSON.stringify(feature['material'])}; expected ${known.join(', ')}, or densityGCm3`,
  );
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function parsed(data: unknown, path: string): Asked {
  const result = Asked.safeParse(data, PLAIN);
  const unknown = unknownKeys(Asked, data, ['material']);
  if (result.success && unknown.length === 0) return result.data;
  const faults = result.success ? [] : faultsOf(result.error);
  throw new ValueFault(`${path}: ${[...unknown, ...faults].join('; ')}`);
}

type MeasuredPlane = Omit<PlaneToCorrect, 'permissibleGmm'>;

/** Flags come before what stands in the file. */
function measuredOf(read: FlagReader, { planes = [] }: Asked): readonly MeasuredPlane[] {
  const errorGmm = read.value('error', 'unbalance');
  const told = (name: string, unbalance: UnbalanceVector, at?: string): MeasuredPlane => ({
    name,
    unbalance,
    errorGmm: errorGmm ?? 0,
    positionMm: at === undefined ? null : (read.value(at, 'length') ?? null),
  });
  const only = read.vector('unbalance');
  const [a, b] = [read.vector('plane-a'), read.vector('plane-b')];
  if (only !== undefined && (a ?? b) !== undefined) {
    throw new ValueFault('--unbalance and --plane-a or --plane-b: expected one plane or two, came both');
  }
  if ((only ?? a ?? b) !== undefined && planes.length > 0) {
    const flag = only === undefined ? '--plane-a and --plane-b' : '--unbalance';
    throw new ValueFault(`${flag} and planes in the file: expected what was measured in one of them, came both`);
  }
  if (only !== undefined) return [told('the only', only)];
  if (a !== undefined && b !== undefined) return [told('A', a, 'a-at'), told('B', b, 'b-at')];
  if ((a ?? b) !== undefined)
    throw new ValueFault('--plane-a and --plane-b: expected both; one plane alone is --unbalance');
  return planes.map(({ name, residualGmm, angleDeg, positionMm = null, ...own }) => ({
    name,
    unbalance: { gmm: residualGmm, angleDeg },
    errorGmm: errorGmm ?? own.errorGmm,
    positionMm,
  }));
}

/** From --permissible, else mass, speed and grade of the flags, else those of the file; null where nothing is demanded. */
function permissibleOf(read: FlagReader, { massKg, serviceSpeedRpm, gradeMmS }: Asked): number | null {
  const told = read.value('permissible', 'unbalance');
  if (told !== undefined) {
    if (told === 0) throw new ValueFault('--permissible: expected more than 0');
    return told;
  }
  if (['mass', 'speed', 'grade', 'for'].some((flag) => read.has(flag))) return permissibleResidualGmm(demandOf(read));
  if (massKg === undefined || serviceSpeedRpm === undefined || gradeMmS === undefined) return null;
  return permissibleResidualGmm({ massKg, serviceSpeedRpm, gradeMmS });
}

function sharesOf(
  wholeGmm: number | null,
  positions: readonly (number | null)[],
  centreOfMassMm: number | null,
): readonly (number | null)[] {
  if (wholeGmm === null || positions.length === 1) return positions.map(() => wholeGmm);
  const [planeAMm = null, planeBMm = null] = positions;
  const known = planeAMm !== null && planeBMm !== null && centreOfMassMm !== null && planeAMm !== planeBMm;
  const { planeAGmm, planeBGmm } = allocateToPlanes(wholeGmm, known ? { planeAMm, planeBMm, centreOfMassMm } : null);
  return [planeAGmm, planeBGmm];
}
