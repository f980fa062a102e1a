// Headroom as it is shown: hours of the days asked for, what bounds a program, and money only by the user's own rates.
import { expect, test } from 'vitest';
import type { Entry } from '../../../shared/entries.ts';
import type { Hold } from '../../../shared/holds.ts';
import { HeadroomView } from '../../../shared/headroom.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR } from '../../../shared/time.ts';
import { headroomView } from '../../../services/holds/views/headroom-view.ts';
import { decide, emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';

const MIDNIGHT = Date.UTC(2031, 2, 3);
const ACTOR = { name: 'Ada-Invented', roles: ['engineer'] };
const BUILD = {
  assemblyId: 'A-1',
  buildId: 'B-1',
  massKg: 2,
  serviceSpeedRpm: 12_000,
  gradeMmS: 6.3,
  parts: [{ kind: 'holder', partId: 'h', markedMaxSpeedRpm: 16_000 }],
};
const RESULT = {
  assemblyId: 'A-1',
  buildId: 'B-1',
  runId: 'R-1',
  stage: 'final',
  planes: [{ name: 'A', residualGmm: 2, angleDeg: 10 }],
};

function floorOf(told: readonly (readonly [hours: number, kind: string, data: object])[]): Floor {
  const floor = emptyFloor('test');
  told.forEach(([hours, kind, data], nth) => {
    const at = MIDNIGHT + hours * MILLISECONDS_AN_HOUR;
    const entry = {
      kind,
      position: nth + 1,
      at,
      id: `m-${nth}`,
      device: 'd-1',
      actor: ACTOR,
      data,
    } as unknown as Entry;
    evolve(floor, entry, decide(floor, entry));
  });
  return floor;
}

const SPINDLE = { spindleId: 'S-1', machine: 'm', cell: 'c', maxSpeedRpm: 15_000, limits: [] };
const LOAD = { spindleId: 'S-1', action: 'load', assemblyId: 'A-1', buildId: 'B-1', programmedSpeedRpm: 10_000 };
const CUT = { spindleId: 'S-1', programmedSpeedRpm: 10_000, actualSpeedRpm: 8000, overridePercent: 80, cutting: true };
const OUT = { spindleId: 'S-1', cutting: false };

const TOLD = [
  [7, 'spindle-declared', SPINDLE],
  [7, 'build', BUILD],
  [7, 'result', RESULT],
  [8, 'load', LOAD],
  [9, 'machine', CUT],
  [10, 'machine', OUT],
  [24 + 9, 'machine', CUT],
  [24 + 9.5, 'machine', OUT],
] as const;

const NOW = MIDNIGHT + MILLISECONDS_A_DAY + 12 * MILLISECONDS_AN_HOUR;

test('today alone, and both days', () => {
  const floor = floorOf(TOLD);
  expect(headroomView(floor, NOW, 1)).toMatchObject({ cutHours: 0.5, from: MIDNIGHT + MILLISECONDS_A_DAY });
  const view = headroomView(floor, NOW, 2);
  expect(view.cutHours).toBe(1.5);
  expect(view.awayHours).toBeCloseTo(0.3, 9);
  expect(HeadroomView.safeParse(view).success).toBe(true);
});

test('days on which nothing was counted yet are not spoken for', () => {
  const floor = floorOf(TOLD);
  // From the Monday on something is told; its week began with it.
  expect(headroomView(floor, NOW, 28)).toMatchObject({ since: MIDNIGHT, spindles: [{ programsSince: MIDNIGHT }] });
  expect(headroomView(floor, NOW, 1).since).toBe(MIDNIGHT + MILLISECONDS_A_DAY);
  expect(headroomView(emptyFloor('test'), NOW, 28).since).toBeUndefined();
  const later = TOLD.map(([at, kind, data]) => [at + 48, kind, data] as const);
  const [row] = headroomView(floorOf(later), NOW + 2 * MILLISECONDS_A_DAY, 28).spindles;
  expect(row?.programsSince).toBe(MIDNIGHT + 2 * MILLISECONDS_A_DAY);
});

test('the lowest of balance, marks and the spindle bounds; what it could save is apart from what is given away', () => {
  const [row] = headroomView(floorOf(TOLD), NOW, 2).spindles;
  const [program] = row?.programs ?? [];
  expect(program).toMatchObject({ markedRpm: 16_000, maximumRpm: 15_000, cutHours: 1.5, actualRpm: 8000 });
  const lowest = Math.min(program?.balanceUpToRpm ?? 0, 15_000);
  expect(program?.allowedRpm).toBe(lowest);
  // Of 1.5 h at 8,000 of 10,000 rpm 1.2 h are cut at the programmed speed; the rest is given away, and counted there.
  expect(program?.couldHours).toBeCloseTo(1.2 * (1 - 10_000 / lowest), 9);
});

test.each([
  ['not measured', TOLD.filter(([, kind]) => kind !== 'result')],
  [
    'no maker’s limit is known',
    TOLD.filter(([, kind]) => kind !== 'spindle-declared').map(([at, kind, data]) =>
      kind === 'build'
        ? ([at, kind, { ...data, parts: [{ kind: 'holder', partId: 'h' }] }] as const)
        : ([at, kind, data] as const),
    ),
  ],
])('nothing could be saved where it is %s', (_what, told) => {
  const [row] = headroomView(floorOf(told), NOW, 2).spindles;
  expect(row?.couldHours).toBeUndefined();
  expect(row?.cutHours).toBe(1.5);
});

test.each([
  { kind: 'assembly' as const, id: 'A-1' },
  { kind: 'spindle' as const, id: 'S-1' },
])('nor while its $kind is on hold', (subject) => {
  const floor = floorOf(TOLD);
  const hold = { holdId: 'H-1', subject, state: 'raised' } as Hold;
  floor.holds.set('H-1', hold);
  expect(headroomView(floor, NOW, 2).spindles[0]?.couldHours).toBeUndefined();
  floor.holds.set('H-1', { ...hold, state: 'released' });
  expect(headroomView(floor, NOW, 2).spindles[0]?.couldHours).toBeGreaterThan(0);
});

test('no money without rates; with them each amount says what it was reckoned from', () => {
  expect(headroomView(floorOf(TOLD), NOW, 2).money).toBeUndefined();
  const rates = {
    currency: 'INV',
    spindleHour: { amount: 100, source: 'invented', sourceDate: '2031-01-01T00:00:00Z' },
    cutters: [],
  };
  const view = headroomView(floorOf([...TOLD, [34, 'rates-declared', rates]]), NOW, 2);
  expect(view.money?.amount).toBeCloseTo(30, 9);
  expect(view.money?.words).toBe('0.3 h × 100 INV/h (invented, 2031-01-01)');
  expect(view.spindles[0]?.money).toMatchObject({ currency: 'INV' });
  expect(view.rates).toMatchObject({ by: 'Ada-Invented' });
});
