// What a setter would write down of each cause and of each change that is no fault, and what the rules make of it.
import { describe, expect, test } from 'vitest';
import { isOpen } from '../../../../shared/holds.ts';
import type { Entry } from '../../../../shared/entries.ts';
import { decide, evolve, type Floor } from '../../../../services/rules/index.ts';
import { readStory } from '../story.ts';
import { BUILT, inS1, inS2, loadsOf, ORDINARY, playedOn, told, turn, unexplained, type Shown } from './told-loads.ts';

describe('each cause, from the loads that show it', () => {
  test.each<[what: string, shown: readonly Shown[], subject: string, named: string]>([
    [
      'a build that shows twice as much in both spindles, while the others show what they did: the assembly',
      [inS1('A-1', { times: 2.2 }), inS1('A-2'), inS2('A-1', { times: 2.1 }), inS2('A-3'), inS1('A-1', { times: 2.2 })],
      'A-1',
      'assembly',
    ],
    [
      'every build in one spindle, and none in the other: the spindle',
      [inS1('A-1', { times: 2.6 }), inS2('A-2'), inS1('A-2', { times: 2.2 }), inS1('A-3', { times: 1.9 }), inS2('A-1')],
      'S-1',
      'spindle',
    ],
    [
      '1× and what is beside it half of what they were, whatever is in it: the sensor',
      ['A-1', 'A-2', 'A-3', 'A-1', 'A-2'].map((id) => inS1(id, { times: 0.5, restTimes: 0.5 })),
      'S-1',
      'sensor',
    ],
    [
      'what is beside the 1× grows, and the 1× does not: a bearing',
      ['A-1', 'A-2', 'A-3', 'A-1', 'A-2'].map((id) => inS1(id, { restTimes: 2.2 })),
      'S-1',
      'bearing',
    ],
    [
      'the same builds now far more, now far less, from load to load: the clamping system',
      [2.4, 0.4, 1.9, 0.5, 2.6, 0.45, 2.2, 0.5, 2.3].map((times, nth) => inS1(`A-${1 + (nth % 3)}`, { times })),
      'S-1',
      'drawbar',
    ],
  ])('%s', (_, shown, subject, named) => {
    const { floor } = told(shown);
    const holds = unexplained(floor);
    const open = holds.filter(isOpen);
    expect(open.map((hold) => hold.subject.id)).toEqual([subject]);
    const finding = open[0]?.findings?.at(-1);
    expect(finding?.named).toBe(named);
    const sum = (finding?.shares ?? []).reduce((all, { probability }) => all + probability, finding?.unknown ?? 0);
    expect(sum).toBeCloseTo(1, 6);
  });

  test('a sensor that tells another spindle than the control speaks of: the sensor, and by which readings', () => {
    const swapped = [1.5, 0.6, 2, 0.7, 1.2, 0.5].map((times, nth) =>
      inS1(`A-${1 + (nth % 3)}`, { sensorRpm: nth % 2 === 0 ? 8000 : 6200, times, restTimes: 1.3 }),
    );
    const [hold] = unexplained(told(swapped).floor);
    expect(hold?.subject).toEqual({ kind: 'spindle', id: 'S-1' });
    expect(hold?.findings?.at(-1)?.named).toBe('sensor');
    expect(hold?.evidence.clauses[1]).toMatchObject({
      what: "readings of this load whose speed contradicts the control's",
      unit: '1',
    });
  });

  test('what would decide speaks of the assembly that is suspected, not of the one that runs now', () => {
    const { floor } = told([inS1('A-1', { times: 6 }), inS1('A-2'), inS1('A-3')]);
    const experiments = unexplained(floor).flatMap((hold) => hold.findings?.at(-1)?.experiments ?? []);
    const assemblies = experiments.flatMap(({ assemblyId }) => assemblyId ?? []);
    expect(new Set(assemblies)).toEqual(new Set(['A-1']));
  });

  test('one load far off, and as ever when it is clamped again: it was that clamping', () => {
    const { floor } = told([
      inS1('A-1', { times: 6 }),
      inS1('A-2'),
      inS1('A-1'),
      inS1('A-3'),
      inS1('A-1'),
      inS2('A-1'),
    ]);
    const [hold] = unexplained(floor);
    expect(hold?.subject).toEqual({ kind: 'spindle', id: 'S-1' });
    expect(hold?.findings?.[0]?.named).toBeUndefined();
    expect(hold?.findings?.at(-1)?.named).toBe('clamping');
  });

  test('clamped again it is not that clamping by its first quiet readings: once it has run for minutes, or ends', () => {
    const before = `${BUILT}\n${loadsOf(0, [...ORDINARY, inS1('A-1', { times: 6 })])}`;
    const again = 'day 2 06:30 load A-1 in S-1 at 18000 rpm\nday 2 06:31 reading S-1 at 18000 rpm overall 0.8 1x 0.42';
    const namedOf = (story: string): string | undefined =>
      unexplained(playedOn(`${before}\n${story}`).floor)[0]?.findings?.at(-1)?.named;
    expect(namedOf(`${again} ×9 every 20 s`)).toBeUndefined();
    expect(namedOf(`${again} ×33 every 20 s`)).toBe('clamping');
    expect(namedOf(`${again} ×9 every 20 s\nday 2 07:00 unload S-1`)).toBe('clamping');
  });

  test('one load far off and nothing since: assembly or clamping cannot be told, and a run elsewhere would tell', () => {
    const { floor } = told([inS1('A-1', { times: 6 })]);
    const [hold] = unexplained(floor);
    const finding = hold?.findings?.at(-1);
    expect(finding?.named).toBeUndefined();
    expect(finding?.shares.slice(0, 2).map(({ cause }) => cause)).toEqual(['assembly', 'clamping']);
    expect(finding?.experiments.map(({ kind }) => kind)).toContain('run-elsewhere');
    expect(finding?.expectedMmS).toBeGreaterThan(0.35);
    expect(finding?.expectedMmS).toBeLessThan(0.5);
    expect(finding?.observedMmS).toBeGreaterThan(finding?.expectedHighMmS ?? Infinity);
    expect(hold?.evidence.clauses[0]?.unit).toBe('mm/s');
  });
});

describe('what is no fault holds nothing', () => {
  test.each<[what: string, shown: readonly Shown[]]>([
    ['loads as ever', turn(40)],
    ['another speed, at which the spindle answers three times as much', turn(24, { rpm: 9000, times: 3 })],
    [
      'a new speed at which one spindle answers more, and its builds elsewhere as ever',
      [
        ...Array.from({ length: 12 }, (_, nth) => inS1(`A-${1 + (nth % 3)}`, { rpm: 9000, times: 2.5 })),
        ...['A-1', 'A-2', 'A-3', 'A-1'].map((id) => inS2(id, { times: 1.15 })),
      ],
    ],
    ['heavy cutting', turn(24, { cutting: true, times: 4, restTimes: 4 })],
    ['slower than programmed, as by an override that nobody tells', turn(24, { sensorRpm: 11_700, times: 0.4 })],
    ['another type of cutter, never seen before', Array.from({ length: 6 }, () => inS1('A-9', { times: 2 }))],
  ])('%s', (_, shown) => {
    expect(unexplained(told(shown).floor)).toEqual([]);
  });

  test('a sensor whose speed was never the one that the control tells', () => {
    const never = loadsOf(0, turn(72, { sensorRpm: 8000 }));
    expect(unexplained(playedOn(`${BUILT}\n${never}`).floor)).toEqual([]);
  });

  test('a build that was rebuilt and measured: its 1× is what its new residual lets expect', () => {
    const rebuilt = 'day 2 06:01 build A-1 b2 1.2 kg 18,000 rpm G40\nday 2 06:02 result A-1 b2 2.4 g·mm';
    const { floor } = playedOn(
      `${BUILT}\n${loadsOf(0, ORDINARY)}\n${rebuilt}\n${loadsOf(
        49,
        ['A-1', 'A-2', 'A-1', 'A-3'].map((id) => inS1(id, id === 'A-1' ? { times: 2 } : {})),
      )}`,
    );
    expect(unexplained(floor)).toEqual([]);
  });

  test('another sensor with twice the gain begins anew', () => {
    const story = loadsOf(48, turn(18, { times: 2, restTimes: 2 })).replaceAll(
      /(reading (S-\d).*?) ×/g,
      '$1 by new-$2 ×',
    );
    expect(unexplained(playedOn(`${BUILT}\n${loadsOf(0, ORDINARY)}\n${story}`).floor)).toEqual([]);
  });
});

describe('one cause, one hold: unexplained and over a limit', () => {
  const limited = (shown: readonly Shown[], limit: string): Floor =>
    playedOn(`${BUILT}\n05:30 limit S-1 ${limit}\n${loadsOf(0, [...ORDINARY, ...shown])}`).floor;
  const LIMIT = '1x 1.2 from 1000 to 24000';
  const grows = [inS1('A-1', { times: 2.2 }), inS2('A-2'), inS1('A-1', { times: 3.4 })];

  test.each<[what: string, limit: string, shown: readonly Shown[], open: readonly string[], named: string | undefined]>(
    [
      ['unexplained alone', '1x 9 from 1000 to 24000', grows, ['S-1 vibration-unexplained'], undefined],
      [
        'unexplained, then over the limit: the limit takes over',
        LIMIT,
        grows,
        ['S-1 synchronous-over-limit'],
        undefined,
      ],
      [
        'over the limit at once: nothing beside it',
        LIMIT,
        [inS1('A-1', { times: 5 }), inS1('A-1', { times: 5 })],
        ['S-1 synchronous-over-limit'],
        undefined,
      ],
      [
        'every build there, and none elsewhere: the causes go on being weighed',
        LIMIT,
        [...grows, inS1('A-2', { times: 2.4 }), inS1('A-3', { times: 2.1 }), inS2('A-1'), inS1('A-2', { times: 2.3 })],
        ['S-1 synchronous-over-limit'],
        'spindle',
      ],
      [
        'that build elsewhere too, and no other there: the assembly is on hold as well, the limit stays somebody’s to verify',
        LIMIT,
        [...grows, inS1('A-2'), inS2('A-1', { times: 3 }), inS1('A-3'), inS2('A-1', { times: 3.1 }), inS2('A-3')],
        ['S-1 synchronous-over-limit', 'A-1 vibration-unexplained'],
        'assembly',
      ],
    ],
  )('%s', (_, limit, shown, open, named) => {
    const floor = limited(shown, limit);
    const holds = [...floor.holds.values()];
    expect(holds.filter(isOpen).map(({ subject, reason }) => `${subject.id} ${reason}`)).toEqual(open);
    expect(holds.find(isOpen)?.findings?.at(-1)?.named).toBe(named);
    // Each is about its own bound: a limit, or what was to be expected of a load.
    for (const { reason, evidence } of holds.filter(isOpen))
      expect(evidence.clauses[0]?.source.startsWith('expected ')).toBe(reason === 'vibration-unexplained');
  });

  test('the one that is taken over ends naming the other, which has its causes', () => {
    const floor = limited(grows, LIMIT);
    const [first, second] = floor.holds.values();
    expect(first?.reason).toBe('vibration-unexplained');
    expect(first?.steps.at(-1)?.note).toBe(`it is over its limit as well: hold ${second?.holdId ?? ''} stands for it`);
    expect(first?.steps.at(-1)?.movedTo).toBe(second?.holdId);
    expect(second?.findings?.at(-1)?.shares).toEqual(first?.findings?.at(-1)?.shares);
  });
});

test('what a build showed in a spindle that has changed says nothing of the build elsewhere', () => {
  const { floor } = told([
    ...['A-1', 'A-2', 'A-3', 'A-1', 'A-2'].map((id) => inS1(id, { times: 2.6 })),
    ...['A-1', 'A-2', 'A-3', 'A-1'].map((id) => inS2(id, { times: 1.15 })),
  ]);
  const open = unexplained(floor).filter(isOpen);
  expect(open.map(({ subject }) => subject.id)).toEqual(['S-1']);
  // Begun anew as the spindle was put on hold.
  for (const { spindles } of floor.buildOdds.values()) expect(spindles).not.toContain('S-1');
});

test('a build that somebody said may be so is compared with what it shows since then', () => {
  const louder = ['A-1', 'A-2', 'A-1', 'A-3'].map((id) => inS1(id, id === 'A-1' ? { times: 3 } : {}));
  const on = [...louder, inS2('A-1', { times: 3 }), inS2('A-2')];
  const { floor } = told(on);
  const [hold] = unexplained(floor).filter(isOpen);
  expect(hold?.subject.id).toBe('A-1');
  const at = floor.at + 60_000;
  const voided = {
    kind: 'hold-act',
    id: 'act',
    at,
    position: floor.position + 1,
    actor: { name: 'Ada', roles: ['engineer'] },
    data: { act: 'void', holdId: hold?.holdId, note: 'it is a longer cutter' },
  } as unknown as Entry;
  evolve(floor, voided, decide(floor, voided));
  const raised = (times: number, first: number): number => {
    const before = unexplained(floor).length;
    const shown = Array.from({ length: 8 }, (_, nth) => (nth % 2 === 0 ? inS1('A-1', { times }) : inS1('A-2')));
    for (const { drafts } of readStory(loadsOf(first, shown)))
      for (const draft of drafts) {
        const entry = { ...draft, position: floor.position + 1 } as Entry;
        evolve(floor, entry, decide(floor, entry));
      }
    return unexplained(floor).length - before;
  };
  const next = ORDINARY.length + on.length + 2;
  expect(raised(3, next)).toBe(0);
  expect(raised(9, next + 8)).toBe(1);
});
