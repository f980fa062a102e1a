// The holds that are on record for a limit: when each was raised and ended, and what people said of it.
import type { Position } from '../../shared/entries.ts';
import { saidWith } from '../../shared/hold-pairing.ts';
import { isOpen, type HoldStep } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { HoldBefore, HoldOnRecord, TryOutReason } from '../../shared/try-out.ts';
import { TRY_OUT_REASONS } from '../../shared/try-out.ts';

type Growing = { -readonly [K in keyof Omit<HoldOnRecord, 'heldMs'>]: HoldOnRecord[K] };

export interface RecordedHold {
  /** The entry that raised it. */
  readonly position: Position;
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
  readonly #about = new Map<string, Pick<RecordedHold, 'spindleId' | 'reason'> & { hold?: Growing; worked: boolean }>();

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

  #raised({ hold, cause }: Extract<Outcome, { kind: 'hold-raised' }>): void {
    const reason = TRY_OUT_REASONS.find((known) => known === hold.reason);
    if (reason === undefined || hold.subject.kind !== 'spindle' || !this.#spindles.has(hold.subject.id)) return;
    const { holdId, raisedAt } = hold;
    const recorded = { spindleId: hold.subject.id, reason, hold: { holdId, raisedAt } };
    this.holds.push({ position: cause, ...recorded });
    this.#about.set(holdId, { ...recorded, worked: false });
  }
}

function told(hold: Growing, step: HoldStep): void {
  if (!isOpen(step)) hold.endedAt = step.at;
  const said = saidWith(step);
  if (said !== undefined) hold.said = said;
}
