import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ledgerScale } from '../../../dashboard/holds/ledger-shape.ts';

test('lengths are to scale: what is measured over the limit is as long as the ratio says', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 1000, noNaN: true }),
      fc.double({ min: 0.01, max: 1000, noNaN: true }),
      (measured, limit) => {
        const { limitShare, measuredShare, over, beyond } = ledgerScale(measured, limit);
        expect(limitShare).toBeGreaterThan(0);
        expect(measuredShare).toBeLessThanOrEqual(1);
        expect(over).toBe(measured > limit);
        const drawn = measuredShare / limitShare;
        expect(beyond ? Math.min(drawn, measured / limit) : measured / limit).toBeCloseTo(drawn, 6);
      },
    ),
  );
});

test('small margins of several clauses have their limits under one another', () => {
  expect(ledgerScale(0.4, 1).limitShare).toBe(ledgerScale(3.9, 2.8).limitShare);
});

test('a limit of nothing', () => {
  expect(ledgerScale(3, 0)).toMatchObject({ over: true, measuredShare: 1, ratio: undefined });
  expect(ledgerScale(0, 0)).toMatchObject({ over: false, measuredShare: 0 });
});
