// How outcomes come about: one open hold per subject and reason, ids from the position of the cause, seen at once by the rules that follow.
import { SERVICE_NAME } from '../../shared/recording.ts';
import type { Entry } from '../../shared/entries.ts';
import {
  awaitedSince,
  DEPENDENTS_MAX,
  type Evidence,
  type Hold,
  type HoldReason,
  type HoldStep,
  type ReleaseCondition,
} from '../../shared/holds.ts';
import type { Subject } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { measuredAtOf } from './clock.ts';
import { foldOutcome } from './fold-outcome.ts';
import type { Layer } from './layer.ts';
import { LATE_MS, RULES_VERSION } from './limits.ts';

export interface HoldWanted {
  readonly subject: Subject;
  readonly reason: HoldReason;
  readonly evidence: Evidence;
  readonly conditions: readonly ReleaseCondition[];
}

/** Collects the outcomes of one entry and folds each into the layer. */
export class Outcomes {
  readonly list: Outcome[] = [];
  readonly layer: Layer;
  readonly entry: Entry;
  #raised = 0;

  constructor(layer: Layer, entry: Entry) {
    this.layer = layer;
    this.entry = entry;
  }

  add(outcome: Outcome): void {
    this.list.push(outcome);
    foldOutcome(this.layer, outcome);
  }

  remark(subject: Subject, remark: string): void {
    this.add({ cause: this.entry.position, kind: 'remarked', subject, remark });
  }

  /**
   * The same again on an open hold becomes its dependent, where it is asked for and as long as there is room. Where a run was to
   * show what a repair was worth, it has shown that.
   */
  repeat(hold: Hold): void {
    if (awaitedSince(hold, 'verification-run') !== undefined)
      this.step(hold, { state: 'raised', by: actorName(this.entry), note: RUN_FAILED });
    if (hold.dependents.length >= DEPENDENTS_MAX) return;
    this.add({ cause: this.entry.position, kind: 'hold-repeated', holdId: hold.holdId });
  }

  raise(wanted: HoldWanted, { repeats }: { readonly repeats: boolean }): void {
    const open = this.layer.openHolds(wanted.subject).find((hold) => hold.reason === wanted.reason);
    if (open !== undefined) {
      if (repeats) this.repeat(open);
      return;
    }
    const { position: cause, at } = this.entry;
    this.#raised += 1;
    const hold: Hold = {
      holdId: `H-${cause}-${this.#raised}`,
      subject: wanted.subject,
      reason: wanted.reason,
      state: 'raised',
      raisedAt: at,
      evidence: { ...wanted.evidence, ...this.#late() },
      conditions: wanted.conditions,
      steps: [{ state: 'raised', at, by: actorName(this.entry), cause }],
      dependents: [],
      rules: RULES_VERSION,
    };
    this.add({ cause, kind: 'hold-raised', hold });
  }

  step(hold: Hold, step: Omit<HoldStep, 'at' | 'cause'>): void {
    const { position: cause, at } = this.entry;
    this.add({ cause, kind: 'hold-stepped', holdId: hold.holdId, step: { ...step, at, cause, ...this.#late() } });
  }

  /** What waited in its device before it came is marked wherever it raises or ends something. */
  #late(): { readonly lateMs?: number } {
    if (!('time' in this.entry)) return {};
    const { at, time, device } = this.entry;
    const lateMs = at - measuredAtOf(at, time, this.layer.floor.devices.get(device));
    return lateMs > LATE_MS ? { lateMs } : {};
  }
}

const RUN_FAILED = say`the run that was to verify the repair showed the same again`;

/** A person's name, a device's, or the service's own. */
export function actorName(entry: Entry): string {
  switch (entry.kind) {
    case 'hold-act':
    case 'spindle-declared':
    case 'notice-try':
    case 'correction-recorded':
    case 'doubt-lifted':
    case 'reference-declared':
    case 'rates-declared':
    case 'ask-wave':
    case 'work-planned':
    case 'answering-declared':
    case 'rules-declared':
    case 'retried':
      return entry.actor.name;
    case 'tick':
    case 'analysed':
      return SERVICE_NAME;
    case 'rejected':
    case 'birth':
    case 'state':
    case 'build':
    case 'result':
    case 'correction':
    case 'proof':
    case 'test':
    case 'summary':
    case 'wave':
    case 'machine':
    case 'load':
    case 'life':
    case 'query':
      return entry.device;
  }
}
