import fc from 'fast-check';
import { expect, test } from 'vitest';
import { titleOf } from '../../dashboard/page-titles.ts';
import {
  changed,
  HEADROOM_DAYS,
  instantText,
  isWholeText,
  partOf,
  partText,
  stretchOf,
  WINDOW_PICTURES,
  type Choices,
} from '../../dashboard/choices.ts';
import { addressOf, HOLD_LISTS, leftAside, readRoute, withChoices, type Route } from '../../dashboard/router.ts';
import { FLOOR_SPANS, SPANS } from '../../dashboard/time-spans.ts';
import { SERIES_QUANTITIES } from '../../shared/series-quantities.ts';

const id = fc.stringMatching(/^[A-Za-z0-9-]{1,40}$/);
const span = fc.constantFrom(...SPANS);
const part = fc
  .tuple(fc.double({ min: 0, max: 1e5, noNaN: true }), fc.double({ min: 1e-3, max: 1e4, noNaN: true }))
  .map(([from, length]) => partText({ from, to: from + length }));
const stretch = fc
  .tuple(fc.integer({ min: 1.6e9, max: 1.9e9 }), fc.integer({ min: 10, max: 366 * 86_400 }))
  .map(([from, length]) => ({ from: instantText(from * 1000), to: instantText((from + length) * 1000) }));
const spindleChoices: fc.Arbitrary<Choices> = fc
  .tuple(
    stretch,
    fc.record(
      {
        of: fc.constantFrom(...SERIES_QUANTITIES),
        speed: fc.nat().map(String),
        channel: fc.string({ minLength: 1, maxLength: 40 }),
        window: fc.nat().map(String),
        picture: fc.constantFrom(...WINDOW_PICTURES),
        'spectrum-part': fc.oneof(part, fc.constant('all')),
        band: part,
      },
      { requiredKeys: ['window'] },
    ),
  )
  .map(([times, rest]) => ({ ...rest, ...times }));
const route: fc.Arbitrary<Route> = fc.oneof(
  fc.record({
    page: fc.constant('floor' as const),
    span: fc.constantFrom(...FLOOR_SPANS),
    cell: fc.string({ minLength: 1, maxLength: 20 }),
  }),
  fc.record({ page: fc.constant('ahead' as const), cell: fc.string({ minLength: 1, maxLength: 20 }) }),
  fc.record({ page: fc.constant('floor' as const) }),
  fc.record({ page: fc.constant('spindle' as const), spindleId: id, span }),
  fc.record({ page: fc.constant('spindle' as const), spindleId: id, choices: spindleChoices }),
  fc.record({
    page: fc.constant('headroom' as const),
    choices: fc.record({ days: fc.constantFrom(...HEADROOM_DAYS.map(String)) }),
  }),
  fc.record({
    page: fc.constant('intake' as const),
    choices: fc.record({ list: fc.constant('retried'), only: fc.constant('matter') }),
  }),
  fc.record({
    page: fc.constant('assembly' as const),
    assemblyId: id,
    choices: fc.record({ speed: fc.constantFrom('12000', '9500.5'), bench: fc.constant('shown') }),
  }),
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
      expect(leftAside(search, made)).toEqual([]);
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

// Whoever is sent such an address sees something else than whoever sent it: that is said, and what is wrong with it.
test.each([
  ['/month', '?month=2026-13', ['month=2026-13']],
  ['/month', '?month=2026-11', []],
  ['/headroom', '?days=5', ['days=5']],
  ['/headroom', '?days=91', []],
  ['/floor', '?span=2y&cell=Hall%20A', ['span=2y']],
  ['/record', '?from=24.11.2026&to=2026-11-30', ['from=24.11.2026']],
  ['/record', '?from=2026-02-31', ['from=2026-02-31']],
  ['/floor', '?span=1y', ['span=1y']],
  ['/holds', '?list=open', []],
  ['/holds', '?list=whatever', ['list=whatever']],
  ['/gate', '?spindle=%20S-1%20&speed=', []],
  ['/spindle/S-1', '?of=sound', ['of=sound']],
  // One end alone, the wrong way round, and longer than anything that is kept at once.
  ['/spindle/S-1', '?from=2026-11-24T08:00:00Z', ['from=2026-11-24T08:00:00Z']],
  [
    '/spindle/S-1',
    '?from=2026-11-24T08:00:00Z&to=2026-11-24T07:00:00Z',
    ['from=2026-11-24T08:00:00Z', 'to=2026-11-24T07:00:00Z'],
  ],
  [
    '/spindle/S-1',
    '?from=2020-11-24T08:00:00Z&to=2026-11-24T08:00:00Z',
    ['from=2020-11-24T08:00:00Z', 'to=2026-11-24T08:00:00Z'],
  ],
  ['/spindle/S-1', '?from=2026-11-24T08:00:00Z&to=2026-11-24T09:00:00Z', []],
  ['/spindle/S-1', '?spectrum-part=1500..120&window=12', ['spectrum-part=1500..120']],
  ['/spindle/S-1', '?spectrum-part=all&envelope-part=0..1200.5', []],
  ['/assembly/A-1', '?speed=0', ['speed=0']],
  ['/assembly/A-1', '?speed=0.5', ['speed=0.5']],
  ['/assembly/A-1', '?speed=11476.928', []],
  ['/plants', '?anything=at%20all', ['anything=at all']],
])('%s%s leaves aside %j', (path, search, left) => {
  expect(leftAside(search, readRoute(path, search))).toEqual(left);
});

test('what is chosen is put into the address and taken out of it again; a page without choices stays as it is', () => {
  const spindle: Route = { page: 'spindle', spindleId: 'S-1', span: '7d' };
  const chosen = withChoices(spindle, { picture: 'envelope', 'envelope-part': partText({ from: 0, to: 400 }) });
  expect(addressOf(chosen)).toBe('/spindle/S-1?span=7d&picture=envelope&envelope-part=0..400');
  expect(withChoices(chosen, { picture: undefined, 'envelope-part': undefined })).toEqual(spindle);
  expect(withChoices({ page: 'plants' }, { picture: 'envelope' })).toEqual({ page: 'plants' });
  expect(changed({ a: '1' }, { a: undefined, b: '2' })).toEqual({ b: '2' });
});

test('a part and a stretch of time read back as they were written, to the second; the whole is no part', () => {
  expect(partOf(partText({ from: 0.000_012_5, to: 1234.5 }))).toEqual({ from: 0.000_012_5, to: 1234.5 });
  expect([partOf(partText(undefined)), isWholeText(partText(undefined))]).toEqual([undefined, true]);
  for (const text of ['', '..', '1..', '..2', '1..2..3', 'a..b', '2..2']) expect(partOf(text)).toBeUndefined();
  const from = Date.UTC(2026, 10, 24, 8, 0, 0, 400);
  const choices = { from: instantText(from), to: instantText(from + 3_600_000) };
  expect(choices.from).toBe('2026-11-24T08:00:00Z');
  expect(stretchOf(choices, 'from', 'to')).toEqual({ from: from - 400, to: from + 3_599_600 });
});
