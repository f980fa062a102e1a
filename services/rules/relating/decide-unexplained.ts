// When it is looked: at a reading that makes a load's mark worth it, and as a load ends.
import type { Entry } from '../../../shared/entries.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import type { Floor } from '../floor.ts';
import { foldOutcome } from '../fold-outcome.ts';
import { answerGates } from '../gate-told.ts';
import type { TrialLayer } from '../layer.ts';
import { Outcomes } from '../raising.ts';
import { hasMoved } from './marks.ts';
import { unexplainedRule } from './unexplained-rule.ts';

/** Whether an entry gives reason to look, and at which spindle. Asked for every reading. */
export function spindleToWeigh(floor: Floor, entry: Entry): string | undefined {
  if (entry.kind === 'summary') {
    const { spindleId } = entry.data;
    return spindleId !== undefined && floor.relating.get(spindleId)?.due === true ? spindleId : undefined;
  }
  if (entry.kind !== 'load') return undefined;
  const { spindleId } = entry.data;
  const relating = floor.relating.get(spindleId);
  const last = relating?.marks.at(-1);
  if (last === undefined || floor.spindles.get(spindleId)?.loaded?.ordinal !== last.ordinal) return undefined;
  return relating?.due === true || hasMoved(last) ? spindleId : undefined;
}

/** What a look leads to, after all else that was decided of the entry; `layer` holds the entry, where it is one that changes much. */
export function decideUnexplained(
  floor: Floor,
  entry: Entry,
  made: readonly Outcome[],
  { layer, spindleId }: { readonly layer: TrialLayer; readonly spindleId: string },
): readonly Outcome[] {
  // Whatever is put on hold with this entry comes first: nothing is raised beside it.
  if (made.some((outcome) => outcome.kind === 'hold-raised')) return made;
  for (const outcome of made) foldOutcome(layer, outcome);
  const outcomes = new Outcomes(layer, entry);
  unexplainedRule(floor, outcomes, spindleId);
  if (outcomes.list.length === 0) return made;
  answerGates(layer, outcomes);
  return [...made, ...outcomes.list];
}
