// Where an assembly can be corrected, as its holder's maker permits it, and what was done to it.
import * as z from 'zod';
import { Id } from '../ids.ts';
import { AngleDeg, PositionMm, quantity, UnbalanceGmm } from '../quantity.ts';

export const FEATURES_MAX = 12;
export const SECTORS_MAX = 24;
export const PLACES_MAX = 72;
export const SCREW_HOLES_MAX = 16;
export const STOCK_MAX = 12;
export const STEPS_MAX = 32;

/** From one angle counter-clockwise to the other; 350 to 10 is the twenty degrees about the reference. */
export const Sector = z.object({
  fromDeg: AngleDeg,
  toDeg: AngleDeg,
  why: z.string().max(80).optional().describe('what is there: a drive slot, a coolant bore, a thin wall'),
});
export type Sector = z.infer<typeof Sector>;

const RadiusMm = quantity('mm', { min: 0.5, max: 5000 }, 'radius from the axis');
const SizeMm = quantity('mm', { min: 0.01, max: 1000 }, 'size');
const StepMm = quantity('mm', { min: 0.001, max: 10 }, 'the finest step a person can set');
const StepDeg = quantity('deg', { min: 0.05, max: 90 }, 'the finest step a person can set');
const DensityGCm3 = quantity('g/cm3', { min: 0.5, max: 25 }, 'density');
const MassG = quantity('g', { min: 0, max: 100_000 }, 'mass');
const PlacesMax = z.int().min(1).max(12);

const common = {
  featureId: Id,
  plane: z.string().min(1).max(20).optional().describe('the measuring plane it lies in; left out with one plane'),
  positionMm: PositionMm.optional().describe('along the axis, from the face of the interface'),
  keepClear: z.array(Sector).max(SECTORS_MAX).default([]).describe('where nothing may be set, drilled or ground'),
  source: z.string().trim().min(1).max(200).optional().describe("who says so: the holder maker's sheet, its date"),
};

const removal = {
  densityGCm3: DensityGCm3.describe('of the material that is removed'),
  depthMaxMm: SizeMm.describe(
    "the holder maker's depth limit, counted to the tip of a drill's point: the wall below is kept",
  ),
  depthStepMm: StepMm.default(0.1),
  angleStepDeg: StepDeg.default(1),
  atDeg: z.array(AngleDeg).min(1).max(PLACES_MAX).optional().describe('only at these angles; left out: anywhere'),
  wallMm: SizeMm.default(1).describe('the least wall between two places'),
  placesMax: PlacesMax.default(4),
};

const drilling = {
  diametersMm: z.array(SizeMm).min(1).max(8).describe('of the drills at hand'),
  pointAngleDeg: quantity('deg', { min: 30, max: 180 }, "the drill's point angle").default(118),
};

/** Two balancing rings, or two sliding weights in a groove: displaced, nothing added or removed. */
export const Rings = z.object({
  kind: z.literal('rings'),
  ...common,
  eachGmm: z.tuple([UnbalanceGmm, UnbalanceGmm]).describe('unbalance of each ring'),
  graduationDeg: StepDeg.describe('of the scale they are set by'),
  standAtDeg: z
    .tuple([AngleDeg, AngleDeg])
    .optional()
    .describe('heavy side of each as measured; left out: opposite each other'),
});

export const RadialHoles = z.object({
  kind: z.literal('radial-holes'),
  ...common,
  ...removal,
  ...drilling,
  radiusMm: RadiusMm.describe('of the surface drilled into'),
});

export const AxialHoles = z.object({
  kind: z.literal('axial-holes'),
  ...common,
  ...removal,
  ...drilling,
  radiusMm: RadiusMm.describe('pitch radius of the holes'),
});

/** Milled or ground flats. */
export const Flats = z.object({
  kind: z.literal('flats'),
  ...common,
  ...removal,
  radiusMm: RadiusMm.describe('of the cylinder that is cut'),
  widthMm: SizeMm.describe('of the flat along the axis'),
});

export const Screw = z.object({
  massG: MassG,
  count: z.int().min(0).max(1000).optional().describe('how many are at hand; left out: enough'),
  name: z.string().max(40).optional(),
});

export const SetScrews = z.object({
  kind: z.literal('set-screws'),
  ...common,
  radiusMm: RadiusMm.describe("of a screw's centre of mass when set"),
  holesDeg: z.array(AngleDeg).min(1).max(SCREW_HOLES_MAX),
  stock: z.array(Screw).max(STOCK_MAX),
  setNow: z
    .array(z.object({ holeDeg: AngleDeg, massG: MassG }))
    .max(SCREW_HOLES_MAX)
    .default([])
    .describe('screws that were in when it was measured'),
});

/** Mass added at permitted angles: weights clamped to a flange, say. */
export const AddedMass = z.object({
  kind: z.literal('added-mass'),
  ...common,
  radiusMm: RadiusMm,
  massMaxG: MassG.describe('the most at one place'),
  massStepG: quantity('g', { min: 0.001, max: 1000 }, 'the finest step a person can weigh').default(0.1),
  angleStepDeg: StepDeg.default(1),
  atDeg: z.array(AngleDeg).min(1).max(PLACES_MAX).optional(),
  placesMax: PlacesMax.default(2),
});

export const CorrectionFeature = z.discriminatedUnion('kind', [
  Rings,
  RadialHoles,
  AxialHoles,
  Flats,
  SetScrews,
  AddedMass,
]);
export type CorrectionFeature = z.infer<typeof CorrectionFeature>;
export type CorrectionKind = CorrectionFeature['kind'];
export type FeatureOf<K extends CorrectionKind> = Extract<CorrectionFeature, { kind: K }>;

/** One thing done at one place. A ring's angle is where its heavy side stands afterwards. */
export const CorrectionStep = z.object({
  featureId: Id,
  plane: z.string().min(1).max(20).optional(),
  angleDeg: AngleDeg,
  ring: z.int().min(1).max(2).optional().describe('which of the two rings'),
  diameterMm: SizeMm.optional(),
  depthMm: quantity('mm', { min: 0, max: 1000 }, 'depth, of the cylindrical part of a hole').optional(),
  massG: MassG.optional().describe('of the screw or mass at this place; 0: the hole is emptied'),
});
export type CorrectionStep = z.infer<typeof CorrectionStep>;

/** What was done to an assembly between two measurements of one build. */
export const Correction = z.object({
  assemblyId: Id,
  buildId: Id,
  planId: z.string().min(1).max(80).optional().describe('of the advice that was followed'),
  insteadOf: z
    .int()
    .min(1)
    .optional()
    .describe(
      'position of the correction whose record was mistaken: this one counts in its place, from when that was done',
    ),
  steps: z.array(CorrectionStep).min(1).max(STEPS_MAX),
  by: z.string().max(80).optional(),
  note: z.string().max(200).optional(),
});
export type Correction = z.infer<typeof Correction>;
