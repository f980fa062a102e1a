// Who is ready when: a full disk is not, a service whose external broker is gone is, with words for its operator.
import { expect, test } from 'vitest';
import { readyParts, type Standing } from '../../services/readiness.ts';

const WELL: Standing = { isStaying: true, isFull: false, brokerConnected: undefined };

function told(standing: Partial<Standing>): { ready: boolean; amiss: string[] } {
  const parts = readyParts({ ...WELL, ...standing });
  return { ready: parts.every(({ ready }) => ready), amiss: parts.flatMap(({ amiss }) => amiss ?? []) };
}

test.each([[{}], [{ brokerConnected: true }]])('all is well with %o', (standing) => {
  expect(told(standing)).toEqual({ ready: true, amiss: [] });
});

test('starting or stopping, or on a full disk, it is not ready and says why', () => {
  expect(told({ isStaying: false })).toEqual({ ready: false, amiss: [expect.stringMatching(/starting or stopping/)] });
  expect(told({ isFull: true })).toEqual({
    ready: false,
    amiss: [expect.stringMatching(/^the disk is full: nothing/)],
  });
});

test('without its external broker it is, and says what that means', () => {
  const amiss = [expect.stringMatching(/broker is not connected: no device is heard/)];
  expect(told({ brokerConnected: false })).toEqual({ ready: true, amiss });
});
