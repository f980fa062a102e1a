// The fold of rule sets: which one is in force, and what it asks of each spindle after whatever its scopes hang on has changed.
import type { ActEntry, Entry } from '../../shared/entries.ts';
import { RULE_SETS_KEPT_MAX } from '../../shared/rule-settings.ts';
import type { Floor, SpindleState } from './floor.ts';
import { scopedTo, tunedFor } from './settings.ts';
import { newSpindle } from './spindle-state.ts';

type RulesEntry = Extract<ActEntry, { kind: 'rules-declared' }>;

/** In force from the next entry on. What was counted so far goes on counting, by what is asked now. */
export function foldRules(floor: Floor, { data, actor, at, position }: RulesEntry): void {
  const declared = { ...data, by: actor.name, at, position };
  floor.ruleSets = [...floor.ruleSets, declared].slice(-RULE_SETS_KEPT_MAX);
  for (const id of floor.spindles.keys()) tune(floor, id);
}

/** After an entry was folded: the spindles whose declaration or load may have changed, or that it was the first to name. */
export function foldTuning(floor: Floor, entry: Exclude<Entry, { kind: 'summary' }>, emptied: readonly string[]): void {
  if (floor.ruleSets.length === 0) return;
  for (const id of emptied) tune(floor, id);
  switch (entry.kind) {
    case 'load':
    case 'spindle-declared':
    case 'machine':
    case 'work-planned':
      tune(floor, entry.data.spindleId);
      return;
    case 'build': {
      const loadedIn = floor.assemblies.get(entry.data.assemblyId)?.loadedIn;
      if (loadedIn !== undefined) tune(floor, loadedIn);
      return;
    }
    case 'result':
    case 'correction':
    case 'proof':
    case 'test':
    case 'birth':
    case 'state':
    case 'wave':
    case 'life':
    case 'query':
    case 'hold-act':
    case 'notice-try':
    case 'correction-recorded':
    case 'doubt-lifted':
    case 'reference-declared':
    case 'answering-declared':
    case 'rates-declared':
    case 'ask-wave':
    case 'rules-declared':
    case 'tick':
    case 'rejected':
    case 'retried':
    case 'analysed':
  }
}

export function newTunedSpindle(floor: Floor, spindleId: string): SpindleState {
  return tunedAs(floor, newSpindle(spindleId));
}

function tune(floor: Floor, id: string): void {
  const spindle = floor.spindles.get(id);
  if (spindle !== undefined) floor.spindles.set(id, tunedAs(floor, spindle));
}

function tunedAs(floor: Floor, spindle: SpindleState): SpindleState {
  const rules = floor.ruleSets.at(-1)?.rules;
  const assembly = spindle.loaded === undefined ? undefined : floor.assemblies.get(spindle.loaded.assemblyId);
  const tuned = tunedFor(rules, scopedTo(floor.plant, spindle, assembly));
  return tuned === undefined && spindle.tuned === undefined ? spindle : { ...spindle, tuned };
}
