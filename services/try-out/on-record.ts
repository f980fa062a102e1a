// The holds that are on record for a limit: when each was raised and ended, and what people said of it.
import type { HoldStep } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { HoldBefore, HoldOnRecord, TryOutReason } from '../../shared/try-out.ts';
import { TRY_OUT_REASONS } from '../../shared/try-out.ts';

type Growing = { -readonly [K in keyof HoldOnRecord]: HoldOnRecord[K] };

export interface RecordedHold {
  readonly spindleId: string;
  readonly reason: TryOutReason;
  readonly hold: Growing;
}

export interface StepOnRecord {
  readonly spindleId: string;
  readonly reason: TryOutReason;
  readonly step: HoldStep;
  /** The work that the hold asks for was told before, and a run is to verify it. */
  readonly wasWorkedOn: boolean;
}

export class Recorded {
  readonly holds: RecordedHold[] = [];
  readonly #spindles: ReadonlySet<string>;
  readonly #about = new Map<string, Omit<RecordedHold, 'hold'> & { hold?: Growing; worked: boolean }>();

  constructor(spindles: ReadonlySet<string>, before: readonly HoldBefore[]) {
    this.#spindles = spindles;
    for (const { holdId, spindleId, reason } of before) this.#about.set(holdId, { spindleId, reason, worked: false });
  }

  /** A step of a hold for a limit; undefined where the outcome is none. */
  take(outcome: Exclude<Outcome, { kind: 'reading-features' }>): StepOnRecord | undefined {
    if (outcome.kind === 'hold-raised') this.#raised(outcome);
    if (outcome.kind !== 'hold-stepped') return undefined;
    const about = this.#about.get(outcome.holdId);
    if (about === undefined) return undefined;
    const { step } = outcome;
    const { spindleId, reason, worked: wasWorkedOn } = about;
    if (step.awaits === 'verification-run') about.worked = true;
    else if (step.state === 'raised') about.worked = false;
    if (about.hold !== undefined) told(about.hold, step);
    return { spindleId, reason, step, wasWorkedOn };
  }

  #raised({ hold }: Extract<Outcome, { kind: 'hold-raised' }>): void {
    const reason = TRY_OUT_REASONS.find((known) => known === hold.reason);
    if (reason === undefined || hold.subject.kind !== 'spindle' || !this.#spindles.has(hold.subject.id)) return;
    const recorded = { spindleId: hold.subject.id, reason, hold: { holdId: hold.holdId, raisedAt: hold.raisedAt } };
    this.holds.push(recorded);
    this.#about.set(hold.holdId, { ...recorded, worked: false });
  }
}

function told(hold: Growing, { state, at, found }: HoldStep): void {
  if (state === 'released' || state === 'void') hold.endedAt = at;
  if (state === 'void') hold.said = 'in-error';
  else if (found !== undefined) hold.said = found === 'nothing' ? 'nothing-found' : 'confirmed';
}
