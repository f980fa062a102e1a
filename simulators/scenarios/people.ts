// People in a long scenario: whatever is put on hold is looked into after a while; what is found wrong is put right, the rest is lifted.
import type { ActData } from '../../shared/acts.ts';
import { isOpen, type Hold } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { MILLISECONDS_A_DAY } from '../../shared/time.ts';
import { drawnIn } from './drawn-plant.ts';
import { accountsFor, isSubject, type About, type LongLabel } from './fault-kinds.ts';
import { end } from './planting.ts';
import { PEOPLE_MS } from './ranges.ts';
import { freshId, tell, type Stage } from './stage.ts';
import { measureAgain, prove } from './tool-room-work.ts';

interface Known {
  readonly hold: Hold;
  /** As it was weighed last. */
  named: string | undefined;
  open: boolean;
}

export class People {
  readonly #stage: Stage;
  readonly #holds = new Map<string, Known>();

  constructor(stage: Stage) {
    this.#stage = stage;
  }

  heard(outcomes: readonly Outcome[]): void {
    for (const outcome of outcomes) {
      if (outcome.kind === 'hold-raised') this.#raised(outcome.hold);
      else if (outcome.kind === 'cause-weighed')
        this.#known(outcome.holdId, (it) => (it.named = outcome.finding.named));
      else if (outcome.kind === 'hold-stepped' && !isOpen(outcome.step))
        this.#known(outcome.holdId, (it) => (it.open = false));
    }
  }

  #known(holdId: string, change: (known: Known) => void): void {
    const known = this.#holds.get(holdId);
    if (known !== undefined) change(known);
  }

  #raised(hold: Hold): void {
    const { queue, now, chance } = this.#stage;
    this.#holds.set(hold.holdId, { hold, named: hold.findings?.at(-1)?.named, open: true });
    queue.add(Math.round(now + drawnIn(chance, PEOPLE_MS)), { what: 'looked-into', holdId: hold.holdId, again: false });
  }

  /** The second time it is lifted, whatever it was for: nobody leaves a machine on hold that is in order. */
  lookInto(holdId: string, again: boolean): void {
    const known = this.#holds.get(holdId);
    if (known === undefined) return;
    // What ended by itself meanwhile is looked into as well.
    const found = again ? [] : this.#found(known);
    for (const label of found) end(this.#stage, label);
    if (!known.open) {
      this.#holds.delete(holdId);
      return;
    }
    if (again) this.#act(holdId, 'void', 'nothing was found');
    else if (found.length === 0) this.#act(holdId, 'void', 'nothing was found');
    else this.#release(known.hold);
    if (!again)
      this.#stage.queue.add(this.#stage.now + MILLISECONDS_A_DAY, { what: 'looked-into', holdId, again: true });
  }

  /** Where the wrong cause was named, the wrong thing is looked at, and what is wrong stays. */
  #found({ hold, named }: Known): readonly LongLabel[] {
    const about = aboutHold(hold);
    return [...this.#stage.active.keys()].filter(
      (label) =>
        accountsFor(label, about) && (named === undefined || named === label.cause || isSubject(label, hold.subject)),
    );
  }

  #release({ holdId, subject, conditions }: Hold): void {
    const stage = this.#stage;
    if (subject.kind === 'assembly') {
      const assembly = stage.assemblies.find((it) => it.assemblyId === subject.id);
      if (assembly !== undefined && assembly.place !== 'tool-room') measureAgain(stage, assembly);
    }
    if (subject.kind === 'bench') {
      const bench = stage.benches.find((it) => it.device === subject.id);
      if (bench !== undefined) prove(stage, bench);
    }
    if (conditions.some(({ kind }) => kind === 'maintenance-release' || kind === 'verification-run'))
      this.#act(holdId, 'release', 'put right');
  }

  #act(holdId: string, act: ActData['hold-act']['act'], note: string): void {
    const stage = this.#stage;
    const actor =
      act === 'void'
        ? { name: 'Engineer-1', roles: ['engineer' as const] }
        : { name: 'Maintenance-1', roles: ['maintenance' as const] };
    tell(stage, { at: stage.now, kind: 'hold-act', id: freshId(stage), actor, data: { act, holdId, note } });
  }
}

export function aboutHold({ raisedAt, subject, evidence }: Hold): About {
  return { at: raisedAt, subject, spindleId: evidence.spindleId, assemblyId: evidence.assemblyId };
}
