// A long scenario through the rules themselves, entry by entry: no bytes, no journal. Another test shows that those change nothing.
import { decide, emptyFloor, evolve } from '../../../services/rules/index.ts';
import type { CauseFinding } from '../../../shared/causes.ts';
import type { Entry } from '../../../shared/entries.ts';
import type { Hold, HoldStep } from '../../../shared/holds.ts';
import type { Subject } from '../../../shared/ids.ts';
import type { Outcome, SubjectState } from '../../../shared/outcomes.ts';
import type { Instant } from '../../../shared/time.ts';
import type { LongScenario } from '../../../simulators/index.ts';

/** One hold and what became of it. */
export interface HoldTold {
  readonly hold: Hold;
  /** The one that raised it, and each that was recorded later. */
  readonly findings: CauseFinding[];
  readonly steps: HoldStep[];
  repeats: number;
}

export interface StateTold {
  readonly at: Instant;
  readonly subject: Subject;
  readonly state: SubjectState;
}

export interface Played {
  readonly entries: number;
  readonly readings: number;
  readonly holds: readonly HoldTold[];
  readonly states: readonly StateTold[];
  /** Entries that the rules failed on, in words; there are none to be expected. */
  readonly failures: readonly string[];
}

const FAILURES_MAX = 20;

/** @param listen is told of each entry and what was made of it. */
export function play(scenario: LongScenario, listen?: (entry: Entry, outcomes: readonly Outcome[]) => void): Played {
  let floor = emptyFloor(scenario.plantId);
  const holds = new Map<string, HoldTold>();
  const states: StateTold[] = [];
  const failures: string[] = [];
  let position = 0;
  for (let draft = scenario.next(); draft !== undefined; draft = scenario.next()) {
    position += 1;
    const entry = draft as Entry & { position: number };
    entry.position = position;
    let outcomes: readonly Outcome[];
    try {
      outcomes = decide(floor, entry);
    } catch (failure) {
      if (!(failure instanceof Error)) throw failure;
      if (failures.length < FAILURES_MAX)
        failures.push(`${entry.kind} at ${position}: ${failure.stack ?? failure.message}`);
      outcomes = [];
    }
    floor = evolve(floor, entry, outcomes);
    listen?.(entry, outcomes);
    if (outcomes.length === 0 || (outcomes.length === 1 && outcomes[0]?.kind === 'reading-features')) continue;
    scenario.heard(outcomes);
    note({ holds, states }, entry.at, outcomes);
  }
  return { entries: position, readings: floor.readings, holds: [...holds.values()], states, failures };
}

interface Notes {
  readonly holds: Map<string, HoldTold>;
  readonly states: StateTold[];
}

function note({ holds, states }: Notes, at: Instant, outcomes: readonly Outcome[]): void {
  for (const outcome of outcomes) {
    switch (outcome.kind) {
      case 'hold-raised': {
        const { hold } = outcome;
        holds.set(hold.holdId, { hold, findings: [...(hold.findings ?? [])], steps: [...hold.steps], repeats: 0 });
        break;
      }
      case 'cause-weighed':
        holds.get(outcome.holdId)?.findings.push(outcome.finding);
        break;
      case 'hold-stepped':
        holds.get(outcome.holdId)?.steps.push(outcome.step);
        break;
      case 'hold-repeated': {
        const known = holds.get(outcome.holdId);
        if (known !== undefined) known.repeats += 1;
        break;
      }
      case 'state-changed':
        states.push({ at, subject: outcome.subject, state: outcome.state });
        break;
      // What else is told holds nothing.
      case 'reading-features':
      case 'hold-escalated':
      case 'act-refused':
      case 'gate-answered':
      case 'severity-changed':
      case 'limit-ahead':
      case 'override-kept':
      case 'wave-asked':
      case 'remarked':
        break;
    }
  }
}
