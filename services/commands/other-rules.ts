// What a replay is to be compared with: a file of limits, a file of a rule set, or both, read with every fault of theirs.
import type { Actor } from '../../shared/acts.ts';
import { limitFaultWords } from '../../shared/limit-fault-words.ts';
import { SERVICE_NAME } from '../../shared/recording.ts';
import type { RuleSet } from '../../shared/rule-settings.ts';
import { RulesDeclared } from '../../shared/rule-set.ts';
import { faultsOfFile, readLimitFile, readRuleFile } from '../limit-files/index.ts';
import type { OtherRules } from '../recording/index.ts';
import { otherLimits } from './other-limits.ts';
import { textOf } from './readable-file.ts';

export interface OtherFiles {
  readonly limits?: string | undefined;
  readonly rules?: string | undefined;
}

export interface OtherRead {
  readonly rules: OtherRules;
  /** What of the files changed nothing, once everything was replayed. */
  idle(): readonly string[];
}

/** Undefined where neither is said. Throws with every fault of a file, its line and what was expected. */
export function readOther({ limits, rules }: OtherFiles, now: number): OtherRead | undefined {
  if (limits === undefined && rules === undefined) return undefined;
  const tried = limits === undefined ? undefined : limitsOf(limits, now);
  const set = rules === undefined ? undefined : otherSet(rulesOf(rules));
  const parts = [tried, set].filter((part) => part !== undefined);
  return {
    rules: {
      revise: (entry) => parts.reduce((revised, part) => part.revise(revised), entry),
      begin: (floor) => parts.flatMap((part) => part.begin(floor)),
    },
    idle: () =>
      (tried?.undeclared() ?? []).map((id) => `nobody declared ${id}: what the file says of it changed nothing`),
  };
}

function limitsOf(path: string, now: number): ReturnType<typeof otherLimits> {
  const file = readLimitFile(textOf(path));
  refuse(path, faultsOfFile(file, now));
  return otherLimits(file, now);
}

function rulesOf(path: string): RuleSet {
  const read = readRuleFile(textOf(path));
  if (read.kind === 'rules') return read.rules;
  refuse(path, read.faults);
  throw new Error(`${path} cannot be used`);
}

function refuse(path: string, faults: readonly Parameters<typeof limitFaultWords>[0][]): void {
  if (faults.length === 0) return;
  throw new Error(`${path} cannot be used:\n${faults.map((fault) => `  ${limitFaultWords(fault)}`).join('\n')}`);
}

/** Nobody put it in force: no person's name stands under what was only tried. */
const SERVICE: Actor = { name: SERVICE_NAME, roles: ['service'] };

/** In force from the beginning on, and instead of every set that was put in force later. */
function otherSet(rules: RuleSet): OtherRules {
  const data = RulesDeclared.parse({ rules, why: 'tried out' });
  return {
    revise: (entry) => (entry.kind === 'rules-declared' ? { ...entry, actor: SERVICE, data } : entry),
    begin: ({ position, at }) => [
      { kind: 'rules-declared', position, at, id: 'otherwise-rules', actor: SERVICE, data },
    ],
  };
}
