// How a hold comes about and how it ends: one open hold per subject and reason, ids from the position of the cause.
import type { Entry } from '../../shared/entries.ts';
import type { Clause, Evidence, Hold, HoldReason, HoldStep, ReleaseCondition } from '../../shared/holds.ts';
import type { Subject } from '../../shared/ids.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Layer } from './layer.ts';

/** Collects the outcomes of one entry; what is raised or ended is seen at once by the rules that follow. */
export class Outcomes {
  readonly list: Outcome[] = [];
  readonly #layer: Layer;
  readonly #entry: Entry;
  #holds = 0;

  constructor(layer: Layer, entry: Entry) {
    this.#layer = layer;
    this.#entry = entry;
  }

  add(outcome: Outcome): void {
    this.list.push(outcome);
  }

  remark(subject: Subject, remark: string): void {
    this.add({ cause: this.#entry.position, kind: 'remarked', subject, remark });
  }

  /** An open hold that says the same takes this as a dependent instead, where `repeats` asks for it. */
  raise(wanted: HoldWanted, { repeats }: { readonly repeats: boolean }): void {
    const { position: cause, at } = this.#entry;
    const open = this.#layer.openHolds(wanted.subject).find((hold) => hold.reason === wanted.reason);
    if (open !== undefined) {
      if (repeats) this.add({ cause, kind: 'hold-repeated', holdId: open.holdId });
      return;
    }
    this.#holds += 1;
    const hold: Hold = {
      holdId: `H-${cause}-${this.#holds}`,
      subject: wanted.subject,
      reason: wanted.reason,
      state: 'raised',
      raisedAt: at,
      evidence: wanted.evidence,
      conditions: wanted.conditions,
      steps: [{ state: 'raised', at, by: actorName(this.#entry), cause }],
      dependents: [],
    };
    this.#layer.putHold(hold);
    this.add({ cause, kind: 'hold-raised', hold });
  }

  step(hold: Hold, step: Omit<HoldStep, 'at' | 'cause'>): void {
    const { position: cause, at } = this.#entry;
    const whole: HoldStep = { ...step, at, cause };
    this.#layer.putHold(withStep(hold, whole));
    this.add({ cause, kind: 'hold-stepped', holdId: hold.holdId, step: whole });
    if (whole.state === 'released' || whole.state === 'void') this.#endWithIt(hold.holdId);
  }

  /** Releases what this entry fulfils a condition of. */
  releaseWhere(subject: Subject, isMet: (condition: ReleaseCondition) => boolean, note: string): void {
    for (const hold of this.#layer.openHolds(subject)) {
      if (hold.conditions.some(isMet)) this.step(hold, { state: 'released', by: actorName(this.#entry), note });
    }
  }

  /** Holds that were only there because of another end with it. */
  #endWithIt(holdId: string): void {
    const layer = this.#layer;
    const ended = layer.hold(holdId);
    const loadedIn = ended?.subject.kind === 'assembly' ? layer.assembly(ended.subject.id)?.loadedIn : undefined;
    if (loadedIn === undefined) return;
    this.releaseWhere(
      { kind: 'spindle', id: loadedIn },
      (condition) => condition.kind === 'hold-ended' && condition.holdId === holdId,
      `hold ${holdId} has ended`,
    );
  }
}

export interface HoldWanted {
  readonly subject: Subject;
  readonly reason: HoldReason;
  readonly evidence: Evidence;
  readonly conditions: readonly ReleaseCondition[];
}

export function withStep(hold: Hold, step: HoldStep): Hold {
  return { ...hold, state: step.state, steps: [...hold.steps, step] };
}

/** A person's name, a device's, or the clock's. */
export function actorName(entry: Entry): string {
  switch (entry.kind) {
    case 'hold-act':
    case 'spindle-declared':
    case 'notice-try':
    case 'retried':
      return entry.actor.name;
    case 'tick':
      return 'clock';
    case 'rejected':
    case 'birth':
    case 'state':
    case 'build':
    case 'result':
    case 'proof':
    case 'summary':
    case 'wave':
    case 'machine':
    case 'load':
    case 'life':
    case 'query':
      return entry.device;
  }
}

export type ClauseOf = Pick<Clause, 'what' | 'measured' | 'limit'>;

export function speedClause(what: string, measured: number, limit: number, source: string): Clause {
  return { what, measured, limit, unit: '{rev}/min', source };
}
