// Which spindles and holds changed since somebody last asked: marked as it happens, so that asking costs what changed.
import type { Entry } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Floor } from '../rules/index.ts';

const NOWHERE: readonly string[] = [];

/** Spindles that a load may empty: where it goes, and where its assembly is before. */
export function mayBeEmptied(floor: Floor, entry: Entry): readonly string[] {
  if (entry.kind !== 'load') return NOWHERE;
  const { spindleId, assemblyId } = entry.data;
  const elsewhere = assemblyId === undefined ? undefined : floor.assemblies.get(assemblyId)?.loadedIn;
  return elsewhere === undefined || elsewhere === spindleId ? [spindleId] : [spindleId, elsewhere];
}

export interface WhatChanged {
  readonly spindles: ReadonlySet<string>;
  readonly holds: ReadonlySet<string>;
}

export class Changed {
  #spindles = new Set<string>();
  #holds = new Set<string>();

  note(floor: Floor, entry: Entry, outcomes: readonly Outcome[]): void {
    this.#noteEntry(floor, entry);
    for (const outcome of outcomes) if (outcome.kind !== 'reading-features') this.#noteOutcome(floor, outcome);
  }

  spindle(id: string): void {
    this.#spindles.add(id);
  }

  take(): WhatChanged {
    const taken = { spindles: this.#spindles, holds: this.#holds };
    this.#spindles = new Set();
    this.#holds = new Set();
    return taken;
  }

  #noteEntry(floor: Floor, entry: Entry): void {
    switch (entry.kind) {
      case 'summary':
      case 'machine':
      case 'load':
      case 'spindle-declared':
      case 'work-planned':
        if (entry.data.spindleId !== undefined) this.#spindles.add(entry.data.spindleId);
        return;
      case 'build':
      case 'result':
      case 'correction':
      case 'correction-recorded':
        this.#noteAssembly(floor, entry.data.assemblyId);
        return;
      case 'notice-try':
        this.#holds.add(entry.data.holdId);
        return;
      case 'birth':
      case 'state':
      case 'proof':
      case 'test':
      case 'doubt-lifted':
      case 'reference-declared':
      case 'rates-declared':
      case 'rules-declared':
      case 'wave':
      case 'life':
      case 'query':
      case 'hold-act':
      case 'ask-wave':
      case 'answering-declared':
      case 'tick':
      case 'rejected':
      case 'retried':
        return;
      case 'analysed':
        this.#spindles.add(entry.spindleId);
    }
  }

  #noteOutcome(floor: Floor, outcome: Outcome): void {
    switch (outcome.kind) {
      case 'hold-raised':
        this.#noteHold(floor, outcome.hold.holdId);
        return;
      case 'hold-repeated':
      case 'hold-stepped':
      case 'hold-escalated':
      case 'cause-weighed':
        this.#noteHold(floor, outcome.holdId);
        return;
      case 'state-changed':
        if (outcome.subject.kind === 'spindle') this.#spindles.add(outcome.subject.id);
        return;
      case 'gate-answered':
        if (outcome.toDevice === undefined) this.#spindles.add(outcome.answer.spindleId);
        return;
      case 'severity-changed':
      case 'limit-ahead':
      case 'override-kept':
      case 'wave-asked':
        this.#spindles.add(outcome.spindleId);
        return;
      case 'act-refused':
      case 'reading-features':
      case 'remarked':
    }
  }

  #noteHold(floor: Floor, holdId: string): void {
    this.#holds.add(holdId);
    const hold = floor.holds.get(holdId);
    if (hold === undefined) return;
    if (hold.subject.kind === 'spindle') this.#spindles.add(hold.subject.id);
    if (hold.evidence.spindleId !== undefined) this.#spindles.add(hold.evidence.spindleId);
    if (hold.subject.kind === 'assembly') this.#noteAssembly(floor, hold.subject.id);
  }

  /** What is said of an assembly shows on the spindle that holds it. */
  #noteAssembly(floor: Floor, assemblyId: string): void {
    const loadedIn = floor.assemblies.get(assemblyId)?.loadedIn;
    if (loadedIn !== undefined) this.#spindles.add(loadedIn);
  }
}
