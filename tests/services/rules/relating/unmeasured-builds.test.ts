// A build that nobody measured: its first loads show what is to be expected of it, and what differs from that later is held.
import { describe, expect, test } from 'vitest';
import { isOpen, type Hold } from '../../../../shared/holds.ts';
import { SHOWN_LOADS_MAX, SHOWN_LOADS_MIN } from '../../../../services/rules/relating/limits.ts';
import { inS1, inS2, told, unexplained, type Shown } from './told-loads.ts';

const NEW = 'A-9';
const loads = (count: number, also: Shown = {}): readonly Shown[] =>
  Array.from({ length: count }, () => inS1(NEW, also));
const holdsOf = (shown: readonly Shown[]): readonly Hold[] => unexplained(told(shown).floor);

describe('a build that nobody measured', () => {
  test.each([1, 1.4, 0.7])(
    'shows what it is by its first loads, %s times the usual: nothing is held for it',
    (times) => {
      expect(holdsOf(loads(14, { times }))).toEqual([]);
    },
  );

  test('in its first loads nothing is held, whatever it shows: nobody knows what it has', () => {
    expect(holdsOf(loads(SHOWN_LOADS_MIN, { times: 4 }))).toEqual([]);
    expect(holdsOf([...loads(SHOWN_LOADS_MIN - 1), ...loads(1, { times: 4 })])).toEqual([]);
  });

  test('once it has shown itself, four times its 1× is held by the second load that shows it, eight times by the first', () => {
    const ordinary = loads(8);
    expect(holdsOf(ordinary)).toEqual([]);
    for (const off of [loads(2, { times: 4 }), loads(1, { times: 8 })]) {
      const [hold, ...others] = holdsOf([...ordinary, ...off]);
      expect(others).toEqual([]);
      expect(hold?.evidence.assemblyId).toBe(NEW);
      expect(hold?.evidence.spindleId).toBe('S-1');
      const finding = hold?.findings?.at(-1);
      expect(finding?.observedMmS).toBeGreaterThan(finding?.expectedHighMmS ?? Infinity);
    }
  });

  test('four times as much wherever it runs, and the others as ever: it is that assembly', () => {
    const holds = holdsOf([
      ...loads(8),
      inS1(NEW, { times: 4 }),
      inS1('A-2'),
      inS1(NEW, { times: 4 }),
      inS2('A-3'),
      inS2(NEW, { times: 4 }),
      inS1('A-1'),
    ]);
    const open = holds.filter(isOpen);
    expect(open.map(({ subject }) => subject.id)).toEqual([NEW]);
    expect(open[0]?.findings?.at(-1)?.named).toBe('assembly');
  });

  test('what it showed is remembered with the build, and of so many loads at most', () => {
    const { floor } = told(loads(SHOWN_LOADS_MAX + 6));
    const known = floor.buildOdds.get(NEW);
    expect(known?.shown?.loads).toBe(SHOWN_LOADS_MAX);
    expect(floor.buildOdds.get('A-1')?.shown).toBeUndefined();
  });
});
