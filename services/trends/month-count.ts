// Counts a plant's month from what happened in it: pure, so that it can be counted by hand.
import type { Cause } from '../../shared/cause-words.ts';
import { saidWith } from '../../shared/hold-pairing.ts';
import { HOLD_REASONS, isOpen, type Hold } from '../../shared/holds.ts';
import type { MonthHappened, MonthNamed, MonthTimes } from '../../shared/month.ts';
import { MONTH_CAUSES, MONTH_ROWS_SHOWN_MAX } from '../../shared/month-limits.ts';
import type { Instant } from '../../shared/time.ts';
import type { HappeningOf, StepKept, Verdict } from './happenings.ts';
import { countedOnce } from './month-handed-on.ts';
import { aheadCounted } from './month-ahead.ts';
import { grouped, silentCounted, unitedMs } from './month-spans.ts';

export type HoldKept = Pick<Hold, 'holdId' | 'subject' | 'reason' | 'raisedAt'> & {
  readonly steps: readonly StepKept[];
  /** The cause that the rules named last. */
  readonly named?: Cause;
};

/** A correction, or several without a measurement between them, and what the next measurement said. */
export interface Try {
  readonly position: number;
  readonly at: Instant;
  readonly assemblyId: string;
  /** None of the same build before it was measured to exceed still. */
  readonly first: boolean;
  readonly measured?: number;
  readonly verdict?: Verdict;
}

export interface MonthRows {
  readonly knownFrom: Instant | undefined;
  /** That stood at any time of the month, in the order of their raising. */
  readonly holds: readonly HoldKept[];
  /** With the last of each spindle before the month. */
  readonly states: readonly HappeningOf<'state'>[];
  /** With the last of each forecast before the month. */
  readonly ahead: readonly HappeningOf<'ahead'>[];
  readonly checks: readonly HappeningOf<'check'>[];
  readonly tries: readonly Try[];
  readonly limits: readonly (HappeningOf<'limits'> & { readonly before?: number })[];
  readonly rules: readonly HappeningOf<'rules'>[];
}

export interface Span {
  readonly from: Instant;
  readonly to: Instant;
}

/** A hold as it stood at the end of the time that is looked at. */
interface Stay extends HoldKept {
  readonly endedAt: Instant | undefined;
}

/** `span.to`: the end of the month, or now while it lasts. */
export function monthCounted(rows: MonthRows, span: Span): MonthHappened {
  const stays = stories(rows.holds, span.to);
  return {
    ...(rows.knownFrom === undefined ? {} : { knownFrom: rows.knownFrom }),
    holds: holdsCounted(stays, span),
    deviations: namedSteps(stays, span, (step) => step.deviation === true),
    voids: namedSteps(stays, span, (step) => step.state === 'void'),
    mostHeld: mostHeld(stays, span),
    truth: truthOf(stays, span),
    corrections: correctionsOf(rows.tries),
    checks: checksOf(rows.checks),
    silent: silentCounted(rows.states, span),
    limits: limitsOf(rows),
    ahead: aheadCounted(rows.ahead, stays, span),
  };
}

/** What went on as another hold later than the time that is looked at had not gone on yet. */
const stories = (holds: readonly HoldKept[], to: Instant): readonly Stay[] =>
  countedOnce(holds.map((hold) => ({ ...hold, steps: hold.steps.filter(({ at }) => at < to) }))).map((hold) =>
    stayOf(hold, to),
  );

function stayOf({ steps: all, ...hold }: HoldKept, to: Instant): Stay {
  const steps = all.filter(({ at }) => at < to);
  const last = steps.at(-1);
  return { ...hold, steps, endedAt: last === undefined || isOpen(last) ? undefined : last.at };
}

const isIn = (at: Instant | undefined, { from, to }: Span): boolean => at !== undefined && at >= from && at < to;

function holdsCounted(stays: readonly Stay[], span: Span): MonthHappened['holds'] {
  const counts = (some: readonly Stay[]) => ({
    raised: some.filter(({ raisedAt }) => isIn(raisedAt, span)).length,
    ended: some.filter(({ endedAt }) => isIn(endedAt, span)).length,
    open: some.filter(({ endedAt }) => endedAt === undefined).length,
  });
  const by = <T>(kinds: readonly T[], of: (stay: Stay) => T) =>
    kinds
      .map((kind) => ({ kind, some: stays.filter((stay) => of(stay) === kind) }))
      .filter(({ some }) => some.length > 0);
  const taken = stays.flatMap((stay) => {
    const step = stay.steps.find(({ state }) => state === 'taken' || state === 'checked');
    return step !== undefined && isIn(step.at, span) ? [{ holdId: stay.holdId, ms: step.at - stay.raisedAt }] : [];
  });
  const ended = stays.flatMap(({ holdId, raisedAt, endedAt }) =>
    endedAt !== undefined && isIn(endedAt, span) ? [{ holdId, ms: endedAt - raisedAt }] : [],
  );
  return {
    openBefore: stays.filter(({ raisedAt }) => raisedAt < span.from).length,
    ...counts(stays),
    byReason: by(HOLD_REASONS, ({ reason }) => reason).map(({ kind, some }) => ({ reason: kind, ...counts(some) })),
    byCause: by(MONTH_CAUSES, ({ named }) => named ?? 'none').map(({ kind, some }) => ({
      cause: kind,
      ...counts(some),
    })),
    toTake: timesOf(taken),
    toEnd: timesOf(ended),
  };
}

function timesOf(times: readonly { readonly holdId: string; readonly ms: number }[]): MonthTimes {
  const sorted = times.toSorted((a, b) => a.ms - b.ms);
  const longest = sorted.at(-1);
  if (longest === undefined) return { of: 0 };
  const middle = (sorted.length - 1) / 2;
  const [low, high] = [sorted[Math.floor(middle)] ?? longest, sorted[Math.ceil(middle)] ?? longest];
  return { of: sorted.length, medianMs: (low.ms + high.ms) / 2, longestMs: longest.ms, longestHoldId: longest.holdId };
}

function namedSteps(stays: readonly Stay[], span: Span, is: (step: StepKept) => boolean) {
  const rows = stays.flatMap(({ holdId, subject, reason, steps }): MonthNamed[] =>
    steps
      .filter((step) => is(step) && isIn(step.at, span))
      .map(({ at, by, askedBy, note }) => ({
        holdId,
        subject,
        reason,
        at,
        by,
        ...(askedBy === undefined ? {} : { askedBy }),
        ...(note === undefined ? {} : { note }),
      })),
  );
  return { of: rows.length, rows: rows.toSorted((a, b) => a.at - b.at).slice(0, MONTH_ROWS_SHOWN_MAX) };
}

function mostHeld(stays: readonly Stay[], span: Span): MonthHappened['mostHeld'] {
  const bySpindle = grouped(
    stays.filter(({ subject }) => subject.kind === 'spindle'),
    ({ subject }) => subject.id,
  );
  const rows = [...bySpindle].map(([spindleId, held]) => ({
    spindleId,
    holds: held.length,
    heldMs: unitedMs(
      held.map(({ raisedAt, endedAt }) => ({ from: raisedAt, to: endedAt ?? span.to })),
      span,
    ),
  }));
  const sorted = rows.toSorted((a, b) => b.heldMs - a.heldMs || (a.spindleId < b.spindleId ? -1 : 1));
  return { of: rows.length, rows: sorted.slice(0, MONTH_ROWS_SHOWN_MAX) };
}

function truthOf(stays: readonly Stay[], span: Span): MonthHappened['truth'] {
  const ended = stays.filter(({ endedAt }) => isIn(endedAt, span));
  const said = ended.map(({ steps }) => steps.flatMap((step) => saidWith(step) ?? []).at(-1));
  const count = (what: (typeof said)[number]): number => said.filter((one) => one === what).length;
  const both = ended.flatMap(({ named, steps }) => {
    const found = steps.flatMap((step) => step.found ?? []).at(-1);
    return named === undefined || found === undefined || found === 'nothing' ? [] : [named === found];
  });
  return {
    of: ended.length,
    confirmed: count('confirmed'),
    nothingFound: count('nothing-found'),
    inError: count('in-error'),
    unsaid: count(undefined),
    named: { of: both.length, right: both.filter(Boolean).length },
  };
}

function correctionsOf(tries: readonly Try[]): MonthHappened['corrections'] {
  const first = tries.filter((tried) => tried.first);
  const count = (verdict: Verdict | undefined): number => first.filter((tried) => tried.verdict === verdict).length;
  return {
    assemblies: new Set(tries.map(({ assemblyId }) => assemblyId)).size,
    tries: tries.length,
    first: { of: first.length, within: count('within'), exceeds: count('exceeds'), unknown: count(undefined) },
  };
}

/** Of a test only its last message counts, whenever the ones before came. */
function checksOf(checks: MonthRows['checks']): MonthHappened['checks'] {
  const last = new Map<string, HappeningOf<'check'>>();
  for (const check of checks) last.set(`${check.bench}\n${check.testId ?? check.position}`, check);
  return [...grouped(last.values(), ({ bench }) => bench)]
    .map(([bench, all]) => {
      const passed = all.filter((one) => one.passed).length;
      return { bench, passed, failed: all.length - passed };
    })
    .toSorted((a, b) => (a.bench < b.bench ? -1 : 1));
}

function limitsOf({ limits, rules }: MonthRows): MonthHappened['limits'] {
  const rows: MonthHappened['limits']['rows'] = [
    ...limits.map(({ at, position, by, why, spindleId, before = 0, limits: after }) => ({
      at,
      position,
      by,
      what: 'limits' as const,
      spindleId,
      before,
      after,
      ...(why === undefined ? {} : { why }),
    })),
    ...rules.map(({ at, position, by, why, version }) => ({ at, position, by, why, version, what: 'rules' as const })),
  ];
  return { of: rows.length, rows: rows.toSorted((a, b) => a.position - b.position).slice(0, MONTH_ROWS_SHOWN_MAX) };
}
