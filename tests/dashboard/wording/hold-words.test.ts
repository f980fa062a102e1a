import { expect, test } from 'vitest';
import { actPress, nextStep } from '../../../dashboard/wording/hold-words.ts';
import { exceedingHold, overLimitHold, releasedHold } from '../fixtures/invented-holds.ts';

test('what somebody else has is taken over, not taken', () => {
  expect(actPress('take', exceedingHold(0))).toBe('I have it');
  expect(actPress('take', overLimitHold(0))).toBe('Take over from m-rask');
  expect(actPress('void', overLimitHold(0))).toBe('Raised in error');
});

test('the next step is the first condition that has not happened', () => {
  expect(nextStep(exceedingHold(0))).toContain('measured again');
  expect(nextStep(releasedHold(0))).toBeUndefined();
});
