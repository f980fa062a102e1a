// The simulated bench: its index readings give back the planted residual within what it says of its own error.
import { describe, expect, test } from 'vitest';
import {
  fromCartesian,
  differenceUnbalance,
  permissibleResidualGmm,
  resolveIndexing,
  sumUnbalance,
} from '../../shared/balance/index.ts';
import { BalanceResult, Proof } from '../../shared/messages/index.ts';
import { DECLARED_ERROR, exceedingGmm, measure, permissibleUm, prove } from '../../simulators/bench.ts';
import { rotating } from '../../simulators/physics.ts';
import { makePlant } from '../../simulators/plant.ts';
import { prngOf } from '../../simulators/prng.ts';
import { INTERFACES } from '../../simulators/spindles.ts';
import { benchFor, residualOf } from '../../simulators/bench-jobs.ts';

const plant = makePlant(1);
const builds = plant.assemblies.flatMap((assembly) =>
  Array.from({ length: 5 }, (_, nth) => ({ assembly, buildId: `${assembly.assemblyId}-T${nth}` })),
);

/** What the readings say: the assembly's part of each plane (ISO 21940-14), summed. */
function recovered(result: BalanceResult): ReturnType<typeof sumUnbalance> {
  const readings = result.readings ?? [];
  const planes = readings[0]?.planes.map((_, nth) =>
    resolveIndexing(
      result.frame,
      readings.map(({ indexDeg, planes: read }) => ({
        turnDeg: indexDeg,
        unbalance: { gmm: read[nth]?.amountGmm ?? Number.NaN, angleDeg: read[nth]?.angleDeg ?? Number.NaN },
      })),
    ),
  );
  return sumUnbalance((planes ?? []).map((plane) => plane.assembly));
}

describe('index readings', () => {
  test('give back the planted residual within the declared error, for 200 builds', () => {
    for (const { assembly, buildId } of builds) {
      const planted = residualOf(plant, assembly, buildId);
      const result = measure(
        benchFor(plant, assembly),
        { assembly, buildId, runId: `${buildId}-R1`, stage: 'check', residualGmm: planted },
        prngOf('bench test', buildId),
      );
      const miss = differenceUnbalance(recovered(result), fromCartesian({ xGmm: planted.x, yGmm: planted.y })).gmm;
      const reclamping = INTERFACES[assembly.interface].declaredUm * assembly.massKg;
      expect(miss, buildId).toBeLessThan(Math.hypot(DECLARED_ERROR.smallestAchievableGmm, reclamping));
      expect(BalanceResult.parse(result), buildId).toEqual(result);
    }
  });

  test('hold the bench’s own part besides, the same for every assembly per kilogram', () => {
    const bench = plant.benches[0];
    const assembly = plant.assemblies[0];
    if (bench === undefined || assembly === undefined) throw new Error('the plant has both');
    const planted = rotating(2, 40);
    const run = { assembly, buildId: 'B', runId: 'R', stage: 'check', residualGmm: planted } as const;
    const quiet = { ...bench, noiseGmm: 0, reclampingUm: 0, scale: 1 };
    const [first, turned] = measure(quiet, run, prngOf('quiet')).readings ?? [];
    const sum = sumUnbalance(
      [first, turned].map((reading) => ({
        gmm: reading?.planes[0]?.amountGmm ?? Number.NaN,
        angleDeg: reading?.planes[0]?.angleDeg ?? Number.NaN,
      })),
    );
    expect(sum.gmm / 2).toBeCloseTo(Math.hypot(bench.ownUm.x, bench.ownUm.y) * assembly.massKg, 2);
  });

  test('a bench that drifts reads too much by its drift', () => {
    const assembly = plant.assemblies[0];
    const bench = plant.benches[0];
    if (bench === undefined || assembly === undefined) throw new Error('the plant has both');
    const quiet = { ...bench, noiseGmm: 0, reclampingUm: 0, scale: 1 };
    const run = {
      assembly,
      buildId: 'B',
      runId: 'R',
      stage: 'check',
      residualGmm: rotating(10, 0),
      scaleDrift: 0.2,
    } as const;
    expect(recovered(measure(quiet, run, prngOf('drift'))).gmm).toBeCloseTo(12, 2);
  });
});

describe('what is planted', () => {
  test('is within its grade with room for the measuring error, but for what is planted to exceed (ISO 21940-11)', () => {
    for (const { assembly, buildId } of builds) {
      const { x, y } = residualOf(plant, assembly, buildId);
      const permissible = permissibleResidualGmm(assembly);
      const reclamping = INTERFACES[assembly.interface].declaredUm * assembly.massKg;
      expect(Math.hypot(x, y) + reclamping, buildId).toBeLessThan(permissible);
      expect(exceedingGmm(assembly, 0.3) - reclamping).toBeGreaterThan(1.2 * permissible);
      expect(permissibleUm(assembly) * assembly.massKg).toBeCloseTo(permissible, 6);
    }
  });
});

describe('the proving rotor', () => {
  test('is seen as it is by a sound bench, and as it is not by a drifting one', () => {
    for (const bench of plant.benches) {
      const proof = prove(bench, prngOf('proof', bench.device));
      expect(Proof.parse(proof)).toEqual(proof);
      const misses = (one: Proof): number[] =>
        one.planes.map((plane, nth) => Math.abs(plane.residualGmm - (one.expected[nth]?.residualGmm ?? Number.NaN)));
      expect(Math.max(...misses(proof))).toBeLessThan(proof.toleranceGmm);
      expect(Math.min(...misses(prove(bench, prngOf('proof', bench.device), 0.1)))).toBeGreaterThan(proof.toleranceGmm);
    }
  });
});
