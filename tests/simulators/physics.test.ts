// The simulated spindle obeys mechanics: force by ω², velocity in proportion to unbalance, resonance where it was put.
import { describe, expect, test } from 'vitest';
import { centrifugalForceN } from '../../shared/balance/index.ts';
import {
  amountOf,
  angleOf,
  responsePerN,
  rotating,
  rotatingForceN,
  synchronousMmS,
  unbalanceForGmm,
  wholeUnbalanceGmm,
  type SpindleMode,
} from '../../simulators/physics.ts';

const MODE: SpindleMode = { stiffnessNUm: 12, naturalHz: 400, dampingRatio: 0.08, sensorDeg: 0 };

describe('force (source: mechanics)', () => {
  test('10 g·mm at 12,000 rpm is 15.79 N', () => {
    // 10⁻⁵ kg·m × (2π·200 s⁻¹)² = 15.79 N
    expect(amountOf(rotatingForceN(rotating(10, 30), 12_000))).toBeCloseTo(15.791, 3);
    expect(amountOf(rotatingForceN(rotating(10, 30), 12_000))).toBeCloseTo(centrifugalForceN(10, 12_000), 9);
  });

  test('twice the speed, four times the force', () => {
    const slow = amountOf(rotatingForceN(rotating(3, 0), 5000));
    expect(amountOf(rotatingForceN(rotating(3, 0), 10_000))).toBeCloseTo(4 * slow, 9);
  });
});

describe('the once-per-revolution velocity (source: mechanics)', () => {
  test('grows in proportion to the unbalance', () => {
    const one = amountOf(synchronousMmS(MODE, rotating(1, 70), 9000));
    expect(amountOf(synchronousMmS(MODE, rotating(7, 70), 9000))).toBeCloseTo(7 * one, 12);
  });

  test('turns with the unbalance', () => {
    const first = angleOf(synchronousMmS(MODE, rotating(2, 10), 9000));
    const second = angleOf(synchronousMmS(MODE, rotating(2, 75), 9000));
    expect((second - first + 360) % 360).toBeCloseTo(65, 9);
  });

  test('3 and 2 g·mm in step make 5, against each other 1, across √13', () => {
    const together = (angleDeg: number): number =>
      amountOf(
        wholeUnbalanceGmm({
          residualGmm: rotating(3, 0),
          ownGmm: rotating(2, angleDeg),
          massKg: 1,
          offsetUm: rotating(0, 0),
        }),
      );
    expect([together(0), together(180), together(90)].map((value) => value.toFixed(6))).toEqual([
      '5.000000',
      '1.000000',
      Math.sqrt(13).toFixed(6),
    ]);
  });

  test('an eccentricity of 2 µm of 1.5 kg is 3 g·mm', () => {
    const nothing = rotating(0, 0);
    const whole = wholeUnbalanceGmm({ residualGmm: nothing, ownGmm: nothing, massKg: 1.5, offsetUm: rotating(2, 0) });
    expect(amountOf(whole)).toBeCloseTo(3, 12);
  });

  test('far below resonance it is ω·F/k: the spring alone', () => {
    const speedRpm = 600;
    const omega = (2 * Math.PI * speedRpm) / 60;
    const springMmS = (omega * 1e3) / (MODE.stiffnessNUm * 1e6 * Math.SQRT2);
    expect(amountOf(responsePerN(MODE, speedRpm)) / springMmS).toBeCloseTo(1, 2);
  });

  test('at resonance it is larger than the spring’s by 1/(2ζ), and turned by a quarter', () => {
    const speedRpm = MODE.naturalHz * 60;
    const omega = 2 * Math.PI * MODE.naturalHz;
    const springMmS = (omega * 1e3) / (MODE.stiffnessNUm * 1e6 * Math.SQRT2);
    expect(amountOf(responsePerN(MODE, speedRpm)) / springMmS).toBeCloseTo(1 / (2 * MODE.dampingRatio), 9);
    // Velocity is in step with the force at resonance; a quarter ahead of it far below.
    expect(angleOf(responsePerN(MODE, speedRpm))).toBeCloseTo(0, 9);
    expect(angleOf(responsePerN(MODE, 60))).toBeCloseTo(90, 1);
  });

  test('the unbalance that gives a velocity is found again', () => {
    const gmm = unbalanceForGmm(MODE, 2.5, 11_000);
    expect(amountOf(synchronousMmS(MODE, rotating(gmm, 123), 11_000))).toBeCloseTo(2.5, 12);
  });
});
