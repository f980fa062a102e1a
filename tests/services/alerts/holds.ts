// Holds as the alerts see them, with invented names, and steps added one by one.
import type { HoldState } from '../../../shared/holds.ts';
import type { HoldView, NoticeView } from '../../../shared/views.ts';

export const RAISED_AT = Date.UTC(2026, 10, 24, 7, 31, 5, 120);
export const CAUTIONS = ['Advisory. The limits of the machine and tool makers govern, and local rules.'];

export function raisedHold(holdId = 'H-41-1', more: Partial<HoldView> = {}): HoldView {
  return {
    holdId,
    subject: { kind: 'assembly', id: 'A-0312' },
    reason: 'residual-exceeds',
    sentence: 'A-0312 is on hold: its residual unbalance is 2.4 times what is permissible at 18,000 rpm.',
    state: 'raised',
    open: true,
    raisedAt: RAISED_AT,
    changedAt: RAISED_AT,
    evidence: { positions: [40, 41], clauses: [], assemblyId: 'A-0312', speedRpm: 18_000 },
    conditions: [
      {
        kind: 'passing-measurement',
        words: 'A passing measurement of A-0312 at 18,000 rpm',
        met: false,
        byHand: false,
      },
    ],
    steps: [{ state: 'raised', at: RAISED_AT, by: 'bench-1', cause: 41 }],
    dependents: [],
    checkFirst: ['Correct and measure again.'],
    cautions: CAUTIONS,
    notices: [],
    ...more,
  };
}

export function stepped(hold: HoldView, state: HoldState, more: Partial<HoldView['steps'][number]> = {}): HoldView {
  const at = hold.changedAt + 60_000;
  const step = { state, at, by: 'M. Okafor', cause: 60 + hold.steps.length, ...more };
  const open = state !== 'released' && state !== 'void';
  return { ...hold, state, open, changedAt: at, steps: [...hold.steps, step] };
}

export function withNotice(hold: HoldView, notice: Partial<NoticeView> & Pick<NoticeView, 'outcome'>): HoldView {
  const made = {
    noticeId: `${hold.holdId}-${hold.state}-maintenance`,
    channel: 'maintenance',
    to: 'http://127.0.0.1:9/…',
    attempt: 1,
    at: hold.changedAt,
    ...notice,
  };
  return { ...hold, notices: [...hold.notices, made] };
}

/** Nobody answered for so many minutes. */
export function escalated(hold: HoldView, minutes: number): HoldView {
  const before = hold.escalations ?? [];
  const one = {
    level: before.length + 1,
    at: RAISED_AT + minutes * 60_000,
    cause: 70,
    priority: 'at-once' as const,
    to: ['engineer' as const],
    waitedMs: minutes * 60_000,
  };
  return { ...hold, escalations: [...before, one] };
}
