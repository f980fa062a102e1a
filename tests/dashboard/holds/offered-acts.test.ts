import { expect, test } from 'vitest';
import { offeredActs } from '../../../dashboard/holds/offered-acts.ts';
import type { Role } from '../../../shared/rights.ts';
import { exceedingHold, overLimitHold, releasedHold } from '../fixtures/invented-holds.ts';

const person = (...roles: Role[]) => ({ name: 'e-saar', roles });
const mine = (offers: ReturnType<typeof offeredActs>): string[] =>
  offers.filter(({ mine: own }) => own).map(({ act }) => act);

test('each role is offered what it may do', () => {
  const hold = overLimitHold(0);
  expect(mine(offeredActs(hold, person('viewer')))).toEqual([]);
  expect(mine(offeredActs(hold, person('operator')))).toEqual([]);
  expect(mine(offeredActs(hold, person('tool-room')))).toEqual(['take', 'check']);
  expect(mine(offeredActs(hold, person('maintenance')))).toEqual(['take', 'check', 'release']);
  expect(mine(offeredActs(hold, person('engineer')))).toEqual(['take', 'check', 'release', 'deviate', 'void']);
});

test('a release by hand is offered only where one can end the hold, or its condition is met', () => {
  const hold = exceedingHold(0);
  expect(offeredActs(hold, person('engineer')).map(({ act }) => act)).not.toContain('release');
  const met = { ...hold, conditions: hold.conditions.map((condition) => ({ ...condition, met: true, byHand: true })) };
  expect(mine(offeredActs(met, person('maintenance')))).toContain('release');
});

test('what one has already is not offered to be taken', () => {
  const hold = { ...overLimitHold(0), takenBy: 'e-saar' };
  expect(offeredActs(hold, person('engineer')).map(({ act }) => act)).not.toContain('take');
});

test('what has been checked is not offered to be taken: that would set it back', () => {
  const hold = { ...overLimitHold(0), state: 'checked' as const };
  expect(mine(offeredActs(hold, person('engineer')))).toEqual(['check', 'release', 'deviate', 'void']);
});

test('no deviation is offered from a marked maximum', () => {
  const hold = { ...exceedingHold(0), reason: 'speed-above-marked' as const };
  expect(mine(offeredActs(hold, person('engineer')))).toEqual(['take', 'check', 'void']);
});

test('a hold that has ended admits nothing', () => {
  expect(offeredActs(releasedHold(0), person('engineer'))).toEqual([]);
});
