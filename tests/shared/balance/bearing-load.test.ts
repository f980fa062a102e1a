// The criterion by bearing load, against mechanics and against the force it stands for.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bearingSharePercent,
  centrifugalForceN,
  permissibleByBearingLoadGmm,
  permissibleForceN,
  type BearingLoadCriterion,
} from '../../../shared/balance/index.ts';

const criterion: BearingLoadCriterion = {
  dynamicRatingN: 20_000,
  ratingSource: 'an invented bearing',
  sharePercent: 1,
  shareSource: 'the test',
};

describe('bearing load', () => {
  test('1 % of 20 kN is 200 N, which 200/ω² permits: 81.06 g·mm at 15 000 rpm (mechanics)', () => {
    expect(permissibleForceN(criterion)).toBeCloseTo(200, 12);
    const omega = (2 * Math.PI * 15_000) / 60;
    expect(permissibleByBearingLoadGmm(criterion, 15_000)).toBeCloseTo((200 / omega ** 2) * 1e6, 10);
    expect(permissibleByBearingLoadGmm(criterion, 15_000)).toBeCloseTo(81.0569, 3);
  });

  test('what is permitted pulls with exactly the permitted force and takes exactly the share', () => {
    const sizes = fc.double({ min: 0.01, max: 100, noNaN: true });
    fc.assert(
      fc.property(sizes, fc.double({ min: 100, max: 1e6, noNaN: true }), (sharePercent, dynamicRatingN) => {
        const one = { ...criterion, sharePercent, dynamicRatingN };
        const unbalanceGmm = permissibleByBearingLoadGmm(one, 12_345);
        expect(centrifugalForceN(unbalanceGmm, 12_345) / permissibleForceN(one)).toBeCloseTo(1, 12);
        expect(bearingSharePercent({ unbalanceGmm, speedRpm: 12_345, dynamicRatingN }) / sharePercent).toBeCloseTo(
          1,
          12,
        );
      }),
    );
  });

  test('rating and share have no default and no value without a source', () => {
    expect(() => permissibleForceN({ ...criterion, ratingSource: ' ' })).toThrow('ratingSource: expected who says so');
    expect(() => permissibleForceN({ ...criterion, shareSource: '' })).toThrow('shareSource: expected who says so');
    expect(() => permissibleForceN({ ...criterion, dynamicRatingN: 0 })).toThrow(/dynamicRatingN: expected/);
    expect(() => permissibleForceN({ ...criterion, sharePercent: 101 })).toThrow('sharePercent: expected at most 100');
    expect(() => permissibleByBearingLoadGmm(criterion, 0)).toThrow(/speedRpm/);
  });
});
