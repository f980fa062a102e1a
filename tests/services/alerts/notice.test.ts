// A notice says of a hold what is retained on MQTT, in the same shape: one reader does for both.
import { expect, test } from 'vitest';
import { holdNotice } from '../../../services/alerts/notice.ts';
import { HoldMessage } from '../../../shared/hold-message.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { raisedHold, stepped } from './holds.ts';

test('the whole hold with times as texts, and nothing of who was told', () => {
  const hold = stepped(raisedHold(), 'taken');
  const of = { plant: 'p', channel: 'webhook', noticeId: 'n', reason: 'taken' } as const;
  const { data } = JSON.parse(holdNotice(hold, of).body) as { data: { holds: unknown[] } };
  expect(data.holds).toHaveLength(1);
  const told = HoldMessage.strict().parse(data.holds[0]);
  expect(told).toMatchObject({ raisedAt: rfc3339Of(hold.raisedAt), changedAt: rfc3339Of(hold.changedAt) });
  expect(told.steps.map(({ at }) => at)).toEqual(hold.steps.map(({ at }) => rfc3339Of(at)));
  expect(data.holds[0]).not.toHaveProperty('notices');
});
