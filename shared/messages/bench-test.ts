// The two tests of a balancing machine with a proving rotor (ISO 21940-21), sent whole or as far as they have come.
import * as z from 'zod';
import { Id } from '../ids.ts';
import { AngleDeg, quantity, UnbalanceGmm } from '../quantity.ts';

export const TEST_READINGS_MAX = 48;

const common = {
  testId: Id.describe('the same for every message of one test; the last message replaces those before'),
  rotorSerial: z.string().min(1).max(80),
  plane: z.string().min(1).max(20).optional(),
};

/** A test mass of ten times what the bench claims to achieve, at twelve places 30° apart. */
export const MinimumAchievableTest = z.object({
  test: z.literal('minimum-achievable'),
  ...common,
  claimedGmm: UnbalanceGmm.describe('the minimum achievable residual unbalance that is claimed'),
  testMassGmm: UnbalanceGmm.describe('ten times the claim'),
  readings: z.array(z.object({ angleDeg: AngleDeg, amountGmm: UnbalanceGmm })).max(TEST_READINGS_MAX),
});

/** A stationary mass and one that travels round: each reading against what both amount to. */
export const ReductionRatioTest = z.object({
  test: z.literal('reduction-ratio'),
  ...common,
  claimedPercent: quantity('%', { min: 0, max: 99.9 }, 'unbalance reduction ratio that is claimed'),
  stationary: z.object({ amountGmm: UnbalanceGmm, angleDeg: AngleDeg }),
  travellingGmm: UnbalanceGmm.describe('five times the stationary mass'),
  readings: z
    .array(
      z.object({
        travellingDeg: AngleDeg.describe('where the travelling mass stood'),
        amountGmm: UnbalanceGmm,
        angleDeg: AngleDeg,
      }),
    )
    .max(TEST_READINGS_MAX),
});

export const BenchTest = z.discriminatedUnion('test', [MinimumAchievableTest, ReductionRatioTest]);
export type BenchTest = z.infer<typeof BenchTest>;
