// What a notice says: the whole hold with its evidence, conditions and cautions, in the envelope of every message and in the
// shape in which holds are retained on MQTT, so that one reader does for both.
import { holdMessage } from '../../shared/hold-message.ts';
import { HOLD_TYPE } from '../../shared/holds.ts';
import { rfc3339Of, type Instant } from '../../shared/time.ts';
import type { HoldView } from '../../shared/views.ts';
import type { NoticeReason } from './occasion.ts';

export const TEST_TYPE = 'counterpoise.alert.test.v1';

/** Ready to be sent: the same id for every try. */
export interface Notice {
  readonly noticeId: string;
  readonly body: string;
}

export interface NoticeOf {
  readonly plant: string;
  readonly channel: string;
  readonly noticeId: string;
  readonly reason: NoticeReason;
  readonly dashboard?: string;
}

/** CloudEvents 1.0, structured JSON. Where it went to and how that fared stays here: it is no business of the receiver. */
export function holdNotice(hold: HoldView, { plant, channel, noticeId, reason, dashboard }: NoticeOf): Notice {
  const page = dashboard === undefined ? {} : { page: `${dashboard.replace(/\/+$/, '')}/holds/${hold.holdId}` };
  const data = { holds: [holdMessage(hold)], notice: { noticeId, reason, channel }, ...page };
  const subject = `${hold.subject.kind}/${hold.subject.id}`;
  return { noticeId, body: envelope({ plant, id: noticeId, type: HOLD_TYPE, subject, at: hold.changedAt, data }) };
}

/** Says nothing but that the way is open; not about any hold. */
export function testNotice(plant: string, channel: string, at: Instant): Notice {
  const noticeId = `test-${at}-${channel}`;
  const data = {
    holds: [],
    notice: { noticeId, reason: 'test', channel },
    words: 'A test of the alerts: nothing is on hold because of it.',
  };
  return { noticeId, body: envelope({ plant, id: noticeId, type: TEST_TYPE, subject: `plant/${plant}`, at, data }) };
}

function envelope(of: { plant: string; id: string; type: string; subject: string; at: Instant; data: object }): string {
  return JSON.stringify({
    specversion: '1.0',
    id: of.id,
    source: `/plant/${of.plant}/service`,
    type: of.type,
    subject: of.subject,
    time: rfc3339Of(of.at),
    datacontenttype: 'application/json',
    data: of.data,
  });
}
