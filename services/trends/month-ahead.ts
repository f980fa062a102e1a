// Forecasts whose day came in a month, and what became of each: pure.
import type { Hold } from '../../shared/holds.ts';
import type { MonthHappened } from '../../shared/month.ts';
import { MONTH_ROWS_SHOWN_MAX, type AheadBecame } from '../../shared/month-limits.ts';
import type { Instant } from '../../shared/time.ts';
import type { HappeningOf } from './happenings.ts';
import { grouped } from './month-spans.ts';

type Told = HappeningOf<'ahead'>;
type Raised = Pick<Hold, 'subject' | 'reason' | 'raisedAt'>;
type AheadRow = MonthHappened['ahead']['rows'][number];

interface Span {
  readonly from: Instant;
  readonly to: Instant;
}

const REASONS = { overall: 'overall-over-limit', synchronous: 'synchronous-over-limit' } as const;

/** `told` in the order of time, with the last of each level before the month. Of each level the last that came due counts. */
export function aheadCounted(told: readonly Told[], holds: readonly Raised[], span: Span): MonthHappened['ahead'] {
  const byLevel = grouped(told, ({ spindleId, ahead }) => `${spindleId}\n${ahead.speedBin}\n${ahead.quantity}`);
  const rows = [...byLevel.values()].flatMap((all) => dueOf(all, holds, span) ?? []);
  const count = (became: AheadBecame): number => rows.filter((row) => row.became === became).length;
  return {
    of: rows.length,
    reached: count('reached'),
    moved: count('moved'),
    takenBack: count('taken-back'),
    notReached: count('not-reached'),
    rows: rows.toSorted((a, b) => a.p50At - b.p50At).slice(0, MONTH_ROWS_SHOWN_MAX),
  };
}

/** Its middle day lies in the time that has passed, and it was said before that day. */
const isDue = ({ at, ahead: { p50At } }: Told, { from, to }: Span): boolean =>
  p50At !== undefined && p50At >= from && p50At < to && at < p50At;

function dueOf(told: readonly Told[], holds: readonly Raised[], span: Span): AheadRow | undefined {
  const first = told.find((one) => isDue(one, span));
  const last = told.findLast((one) => isDue(one, span));
  if (first === undefined || last?.ahead.p50At === undefined) return undefined;
  const { spindleId, ahead } = last;
  const { speedRpm, quantity, p50At = last.ahead.p50At } = ahead;
  const reached = holds.some(
    ({ subject, reason, raisedAt }) =>
      subject.kind === 'spindle' && subject.id === spindleId && reason === REASONS[quantity] && raisedAt >= first.at,
  );
  return { spindleId, speedRpm, quantity, saidAt: last.at, p50At, became: reached ? 'reached' : changed(told, last) };
}

/** What was said after it, as long as its day had not come. */
function changed(told: readonly Told[], last: Told): AheadBecame {
  const after = told.slice(told.indexOf(last) + 1).find(({ at }) => at < (last.ahead.p50At ?? 0));
  if (after === undefined) return 'not-reached';
  return after.ahead.p50At === undefined ? 'taken-back' : 'moved';
}
