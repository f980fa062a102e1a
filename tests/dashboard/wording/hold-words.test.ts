import { afterEach, expect, test } from 'vitest';
import { actPress, endedBy, endsWhen, holdSentence, noteTold } from '../../../dashboard/wording/hold-words.ts';
import { ENGLISH, speak } from '../../../shared/language/index.ts';
import { exceedingHold, heldLoadedHold, overLimitHold, releasedHold } from '../fixtures/invented-holds.ts';

afterEach(() => speak(ENGLISH));

test('what somebody else has is taken over, not taken', () => {
  expect(actPress('take', exceedingHold(0))).toBe('I have it');
  expect(actPress('take', overLimitHold(0))).toBe('Take over from m-rask');
  expect(actPress('void', overLimitHold(0))).toBe('Raised in error');
});

test('everything that would end a hold is said, what stands beside a condition is not', () => {
  expect(endsWhen(exceedingHold(0))).toBe(
    'A-0108 is measured again and is within its permissible residual at 18,000 rpm',
  );
  expect(endsWhen(heldLoadedHold(0, 'S-03'))).toBe(
    'A-0108 is taken out of S-03, or when the hold H-4711-1 of A-0108 has ended',
  );
  const words = 'A-1 is measured again and is within. The reading since is within, but no measurement can show it.';
  expect(endsWhen({ conditions: [{ kind: 'passing-measurement', words, met: false, byHand: false }] })).toBe(
    'A-1 is measured again and is within',
  );
  expect(endsWhen({ conditions: [] })).toBeUndefined();
});

test('a hold that is open speaks in the words of the rules, one that has ended in the past', () => {
  expect(holdSentence(overLimitHold(0))).toBe(overLimitHold(0).sentence);
  expect(holdSentence(releasedHold(0))).toBe(
    'A-0103 was on hold: residual unbalance exceeded what is permissible at 18,000 rpm, 3.82 against 1.59 g·mm.',
  );
  const counted = { what: 'measurements since the build', measured: 0, limit: 1, unit: '1', source: 'the build' };
  const unmeasured = {
    ...releasedHold(0),
    reason: 'not-measured-since-build' as const,
    evidence: { positions: [1], clauses: [counted], spindleId: 'S-05' },
  };
  expect(holdSentence(unmeasured)).toBe(
    'A-0103 was on hold: it had not been measured since it was built or changed, loaded in S-05.',
  );
});

test('a speed that was too high is told once, without places', () => {
  const clause = { what: 'programmed speed', measured: 12_000, limit: 7775, unit: '{rev}/min', source: 'balance' };
  const evidence = { positions: [1], clauses: [clause], spindleId: 'S-03', speedRpm: 12_000 };
  expect(holdSentence({ ...releasedHold(0), reason: 'speed-above-balanced', evidence })).toBe(
    'A-0103 was on hold: speed was above what it was balanced for, 12,000 against 7,775 rpm, loaded in S-03.',
  );
});

test('how it ended and by whom', () => {
  const ended = releasedHold(0);
  const as = (step: object) =>
    endedBy({ ...ended, steps: [...ended.steps.slice(0, 1), { ...ended.steps[1]!, ...step }] });
  expect(endedBy(overLimitHold(0))).toBeUndefined();
  expect(endedBy(ended)).toBe('ended by bench-2');
  expect(as({ by: 'e-saar', deviation: true })).toBe('ended by e-saar as a named deviation');
  expect(as({ by: 'e-saar', state: 'void' })).toBe('ended by e-saar: raised in error');
});

test('what the rules wrote beside a step is told again, what a person wrote never', () => {
  speak({
    tag: 'xx',
    locale: 'en-GB',
    name: 'xx',
    texts: { 'measured and within at {0}': 'measured and within zu {0}' },
  });
  const note = 'measured and within at 18,000 rpm';
  const hold = releasedHold(0);
  const last = { ...hold.steps.at(-1)!, note };
  const ended = { conditions: [{ kind: 'passing-measurement' as const, words: '', met: true, byHand: false }] };
  const by = (step: object, conditions = ended.conditions) => {
    const whole = { ...last, ...step };
    return noteTold({ steps: [hold.steps[0]!, whole], conditions }, whole);
  };
  expect(by({})).toBe('measured and within zu 18,000 rpm');
  expect(by({ deviation: true })).toBe(note);
  expect(by({ state: 'void' })).toBe(note);
  expect(by({}, [{ ...ended.conditions[0]!, met: false }])).toBe(note);
  expect(by({ movedTo: 'H-1-1' })).toBe('measured and within zu 18,000 rpm');
  expect(by({ note: undefined })).toBeUndefined();
});
