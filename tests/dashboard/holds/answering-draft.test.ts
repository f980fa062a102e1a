import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  declaredOf,
  draftOf,
  inOtherUnits,
  mayAddLevel,
  toldToNobody,
  waitWords,
  withLevel,
  withMinutes,
  withoutLevel,
  withRole,
  type AnsweringDraft,
} from '../../../dashboard/holds/answering-draft.ts';
import { ANSWER_AFTER_MAX_MIN, ESCALATION_LEVELS_MAX } from '../../../shared/answering-limits.ts';
import { Answering, DEFAULT_ANSWERING } from '../../../shared/answering.ts';
import { ROLES } from '../../../shared/rights.ts';

const NONE: AnsweringDraft = { levels: [], deviationNames: 1 };

test('what is in force and left as it is declares the same, with the new reason', () => {
  expect(declaredOf(draftOf(DEFAULT_ANSWERING), ' as before ')).toEqual({ ...DEFAULT_ANSWERING, note: 'as before' });
});

test('a level more waits twice as long and tells nobody yet; none beyond what may be declared', () => {
  const more = withLevel(draftOf(DEFAULT_ANSWERING));
  expect(more.levels.at(-1)).toEqual({
    afterMin: { 'at-once': '120', 'this-shift': '960', 'when-planned': '8640' },
    to: [],
  });
  expect(toldToNobody(more)).toBe(2);
  const full = Array.from({ length: ESCALATION_LEVELS_MAX - 2 }).reduce<typeof more>(
    withLevel,
    draftOf(DEFAULT_ANSWERING),
  );
  expect(mayAddLevel(full)).toBe(false);
  // Twice 17,280 min would be beyond two weeks: that is left to whoever types.
  expect(full.levels.map(({ afterMin }) => afterMin['when-planned'])).toEqual(['1440', '4320', '8640', '17280', '']);
});

test('the first of no levels is left empty', () => {
  expect(withLevel(NONE).levels).toEqual([
    { afterMin: { 'at-once': '', 'this-shift': '', 'when-planned': '' }, to: [] },
  ]);
});

test('minutes, roles and levels change where they stand, and nowhere else', () => {
  const typed = withMinutes(draftOf(DEFAULT_ANSWERING), 1, 'this-shift', '500');
  const told = withRole(typed, 1, 'maintenance', { told: true, roles: ROLES });
  const { levels } = declaredOf(withRole(told, 0, 'tool-room', { told: false, roles: ROLES }), 'tried');
  expect(levels).toEqual([
    { ...DEFAULT_ANSWERING.levels[0], to: ['maintenance'] },
    { afterMin: { 'at-once': 60, 'this-shift': 500, 'when-planned': 4320 }, to: ['maintenance', 'engineer'] },
  ]);
  expect(declaredOf(withoutLevel(typed, 0), 'tried').levels).toHaveLength(1);
});

test.each([
  [1, '1 min'],
  [59, '59 min'],
  [60, '1 h'],
  [90, '1 h 30 min'],
  [1440, '1 d'],
  [2890, '2 d 10 min'],
  [ANSWER_AFTER_MAX_MIN, '14 d'],
])('%i min are %s', (minutes, words) => {
  expect(waitWords(minutes)).toBe(words);
});

test('two waits that differ are never told in the same words', () => {
  const minutes = fc.integer({ min: 1, max: ANSWER_AFTER_MAX_MIN });
  fc.assert(fc.property(minutes, minutes, (a, b) => a === b || waitWords(a) !== waitWords(b)));
});

test.each(['', '-5', '12.5', '59', '20161', 'soon'])('beside “%s” no other units are told', (typed) => {
  expect(inOtherUnits(typed)).toBeUndefined();
});

test('what a form can send is what the service takes, where each level waits longer', () => {
  const waits = fc.uniqueArray(fc.integer({ min: 1, max: ANSWER_AFTER_MAX_MIN }), {
    minLength: 1,
    maxLength: ESCALATION_LEVELS_MAX,
  });
  fc.assert(
    fc.property(waits, fc.constantFrom(...ROLES), (minutes, role) => {
      const draft = [...minutes]
        .sort((a, b) => a - b)
        .reduce((before, wait, index) => {
          const level = withRole(withLevel(before), index, role, { told: true, roles: ROLES });
          const first = withMinutes(level, index, 'at-once', `${wait}`);
          return withMinutes(withMinutes(first, index, 'this-shift', `${wait}`), index, 'when-planned', `${wait}`);
        }, NONE);
      expect(Answering.safeParse(declaredOf(draft, 'why')).success).toBe(true);
    }),
  );
});
