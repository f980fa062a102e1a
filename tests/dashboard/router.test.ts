import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addressOf, HOLD_LISTS, readRoute, titleOf, type Route } from '../../dashboard/router.ts';
import { SPANS } from '../../dashboard/time-spans.ts';

const id = fc.stringMatching(/^[A-Za-z0-9-]{1,40}$/);
const span = fc.constantFrom(...SPANS);
const route: fc.Arbitrary<Route> = fc.oneof(
  fc.record({ page: fc.constant('floor' as const), span, cell: fc.string({ minLength: 1, maxLength: 20 }) }),
  fc.record({ page: fc.constant('ahead' as const), cell: fc.string({ minLength: 1, maxLength: 20 }) }),
  fc.record({ page: fc.constant('floor' as const) }),
  fc.record({ page: fc.constant('spindle' as const), spindleId: id, span }),
  fc.record({ page: fc.constantFrom('assembly' as const, 'record' as const), assemblyId: id }),
  fc.record({ page: fc.constant('holds' as const), list: fc.constantFrom(...HOLD_LISTS) }),
  fc.record({ page: fc.constant('hold' as const), holdId: id }),
  fc.record({ page: fc.constant('tag' as const), holdId: id }),
  fc.record(
    {
      page: fc.constant('acts' as const),
      by: id,
      about: id,
      kind: fc.constantFrom('acts' as const, 'decisions' as const, 'hold-act' as const, 'limit-ahead' as const),
      from: fc.constantFrom('2026-11-24', '2026-02-28'),
      to: fc.constantFrom('2026-12-31', '2027-01-01'),
    },
    { requiredKeys: ['page'] },
  ),
  fc.record({
    page: fc.constant('gate' as const),
    spindleId: id,
    assemblyId: id,
    speed: fc.stringMatching(/^[-0-9a-z.]{1,9}$/),
  }),
  fc.record({
    page: fc.constantFrom(
      'assemblies' as const,
      'tool-room' as const,
      'headroom' as const,
      'intake' as const,
      'ahead' as const,
      'limits' as const,
      'plant' as const,
      'plants' as const,
      'acts' as const,
      'sign-in' as const,
      'first-sign-in' as const,
    ),
  }),
);

test('every address reads back as the page it was made of', () => {
  fc.assert(
    fc.property(route, (made) => {
      const [path = '', search = ''] = addressOf(made).split('?');
      expect(readRoute(path, search)).toEqual(made);
      expect(titleOf(made)).not.toBe('');
    }),
  );
});

test.each([
  ['/', '', { page: 'floor' }],
  ['/floor', '?span=1h', { page: 'floor', span: '1h' }],
  ['/floor', '?span=2y', { page: 'floor' }],
  ['/holds', '?list=whatever', { page: 'holds', list: 'open' }],
  ['/holds/H-12-1/', '', { page: 'hold', holdId: 'H-12-1' }],
  ['/gate', '?spindle=S-1&speed=-4', { page: 'gate', spindleId: 'S-1', speed: '-4' }],
  ['/gate', '?spindle=%20S-1%20&speed=', { page: 'gate', spindleId: 'S-1' }],
  ['/spindle', '', { page: 'unknown', path: '/spindle' }],
  ['/assembly/A-1/record', '', { page: 'record', assemblyId: 'A-1' }],
  ['/assembly/A-1/other', '', { page: 'unknown', path: '/assembly/A-1/other' }],
  ['/holds/H-1-1/tag/more', '', { page: 'unknown', path: '/holds/H-1-1/tag/more' }],
  ['/nowhere/at/all', '', { page: 'unknown', path: '/nowhere/at/all' }],
  ['/spindle/%E0%A4%A', '', { page: 'spindle', spindleId: '%E0%A4%A' }],
])('%s%s', (path, search, expected) => {
  expect(readRoute(path, search)).toEqual(expected);
});

test.each([
  ['/spindles/S-03', '/spindle/S-03'],
  ['/assemblies/A-0108', '/assembly/A-0108'],
  ['/assemblies/A-0108/record', '/assembly/A-0108/record'],
  ['/hold/H-4711-1', '/holds/H-4711-1'],
  ['/hold/H-4711-1/tag', '/holds/H-4711-1/tag'],
])('%s leads to %s, which is its address', (typed, address) => {
  expect(addressOf(readRoute(typed))).toBe(address);
});
