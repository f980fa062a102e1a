// Two lists of holds beside each other, as an engineer would pair them by hand.
import { expect, test } from 'vitest';
import { compareHolds } from '../../../services/recording/index.ts';
import type { Hold, HoldReason, HoldStep } from '../../../shared/holds.ts';

const HOUR = 3_600_000;
const SPAN = { from: 0, to: 100 * HOUR };

function hold(holdId: string, id: string, raised: number, ended?: number, more: Partial<HoldStep> = {}): Hold {
  const raisedAt = raised * HOUR;
  const raising: HoldStep = { state: 'raised', at: raisedAt, by: 'sensor-01', cause: Number(holdId.split('-')[1]) };
  const ending: HoldStep[] =
    ended === undefined ? [] : [{ state: 'released', at: ended * HOUR, by: 'eva', cause: 99, ...more }];
  const last = ending.at(-1)?.state ?? 'raised';
  const reason: HoldReason = 'overall-over-limit';
  const evidence = { positions: [1], clauses: [] };
  const subject = { kind: 'spindle', id } as const;
  return {
    holdId,
    subject,
    reason,
    state: last,
    raisedAt,
    evidence,
    conditions: [],
    steps: [raising, ...ending],
    dependents: [],
  };
}

test('the same list is the same to the last digit, and held as long', () => {
  const list = [hold('H-1-1', 'S-01', 10, 14), hold('H-2-1', 'S-02', 90)];
  const compared = compareHolds(list, structuredClone(list), SPAN);
  expect(compared.both.map(({ same, now }) => [same, now.heldMs / HOUR])).toEqual([
    [true, 4],
    [true, 10],
  ]);
  expect([...compared.onlyOnRecord, ...compared.onlyNow]).toEqual([]);
});

test('another limit raises it earlier: one hold, held longer, and not the same', () => {
  const { both, onlyNow } = compareHolds([hold('H-9-1', 'S-01', 10, 14)], [hold('H-5-1', 'S-01', 6, 14)], SPAN);
  expect(both.map(({ onRecord, now, same }) => [onRecord.heldMs / HOUR, now.heldMs / HOUR, same])).toEqual([
    [4, 8, false],
  ]);
  expect(onlyNow).toEqual([]);
});

test('at another time, of another spindle, or for another reason it is another hold', () => {
  const recorded = [hold('H-9-1', 'S-01', 10, 14)];
  const now = [hold('H-20-1', 'S-01', 20, 22), hold('H-9-2', 'S-02', 10, 14)];
  const elsewhere: Hold = { ...hold('H-9-1', 'S-01', 10, 14), reason: 'synchronous-over-limit' };
  const { both, onlyOnRecord, onlyNow } = compareHolds(recorded, [...now, elsewhere], SPAN);
  expect(both).toEqual([]);
  expect(onlyOnRecord.map((one) => one.hold.holdId)).toEqual(['H-9-1']);
  expect(onlyNow.map((one) => one.hold.holdId)).toEqual(['H-9-1', 'H-9-2', 'H-20-1']);
});

test('two that stood one after the other where one stands now: the earlier is the one, and the other only on record', () => {
  const recorded = [hold('H-1-1', 'S-01', 10, 12), hold('H-2-1', 'S-01', 13, 15)];
  const { both, onlyOnRecord } = compareHolds(recorded, [hold('H-1-2', 'S-01', 9, 20)], SPAN);
  expect(both.map(({ onRecord }) => onRecord.hold.holdId)).toEqual(['H-1-1']);
  expect(onlyOnRecord.map((one) => one.hold.holdId)).toEqual(['H-2-1']);
});

test('what people found is told with it, and with what it is paired with; their last word counts', () => {
  const found = { found: 'bearing' } as const;
  const { both } = compareHolds([hold('H-9-1', 'S-01', 10, 14, found)], [hold('H-5-1', 'S-01', 6)], SPAN);
  const word = { said: 'confirmed', found: 'bearing', by: 'eva', at: 14 * HOUR };
  expect(both[0]?.onRecord.word).toEqual(word);
  expect(both[0]?.now.word).toEqual(word);
  const nothing = hold('H-1-1', 'S-01', 10, 14, { found: 'nothing' });
  const voided = hold('H-2-1', 'S-01', 20, 21, { state: 'void' });
  const passed = hold('H-3-1', 'S-01', 30, 31);
  const deviation = hold('H-4-1', 'S-01', 40, 41, { deviation: true });
  const words = compareHolds([nothing, voided, passed, deviation], [], SPAN).onlyOnRecord.map((one) => one.word?.said);
  expect(words).toEqual(['nothing-found', 'in-error', undefined, undefined]);
});

test('only what lies within the time that is looked at is counted as held', () => {
  const { onlyOnRecord } = compareHolds([hold('H-1-1', 'S-01', 10, 30)], [], { from: 20 * HOUR, to: 25 * HOUR });
  expect(onlyOnRecord[0]?.heldMs).toBe(5 * HOUR);
});
