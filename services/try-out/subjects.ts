// Which spindles a draft touches, and by which limits and settings they would be judged.
import type { VibrationLimit } from '../../shared/acts.ts';
import { limitsAfter } from '../../shared/limit-tries.ts';
import {
  fitsScope,
  RULE_SETTINGS,
  TRIED_SETTINGS,
  type RuleRow,
  type RuleSet,
  type ScopedTo,
} from '../../shared/rule-settings.ts';
import type { LimitTry, TrySubject } from '../../shared/try-out.ts';

export interface Tried {
  readonly subject: TrySubject;
  readonly limits: readonly VibrationLimit[];
  /** Of the rule set that is tried, those that may ever count for it. */
  readonly rows: readonly RuleRow[];
}

export interface Draft {
  readonly rules: RuleSet | undefined;
  readonly limits: readonly LimitTry[];
}

/** Those that would be judged otherwise than now, in the order given. */
export function touchedBy(
  plant: string,
  subjects: readonly TrySubject[],
  inForce: RuleSet | undefined,
  draft: Draft,
): readonly Tried[] {
  return subjects.flatMap((subject) => {
    const limits = draft.limits.reduce((before, one) => limitsAfter(before, subject, one), subject.limits);
    const rowsNow = rowsFor(plant, subject, inForce);
    const rows = draft.rules === undefined ? rowsNow : rowsFor(plant, subject, draft.rules);
    const isOther = limits !== subject.limits || JSON.stringify(rows) !== JSON.stringify(rowsNow);
    return isOther && limits.length > 0 ? [{ subject, limits, rows }] : [];
  });
}

/** Whether it sets anything otherwise that a try-out does not go through history for. */
export function changesUntried(inForce: RuleSet | undefined, { rules }: Pick<Draft, 'rules'>): boolean {
  return rules !== undefined && JSON.stringify(untried(rules)) !== JSON.stringify(untried(inForce));
}

const untried = (rules: RuleSet | undefined): readonly object[] =>
  (rules?.rows ?? []).flatMap(({ scope, settings }) => {
    const named = RULE_SETTINGS.filter((name) => settings[name] !== undefined && !TRIED_SETTINGS.includes(name));
    return named.length === 0 ? [] : [{ scope, settings: named.map((name) => [name, settings[name]]) }];
  });

/** Of what a try-out goes through history for. What is loaded changes: rows that ask for it are kept, and asked again at each load. */
function rowsFor(plant: string, subject: TrySubject, rules: RuleSet | undefined): readonly RuleRow[] {
  const to: ScopedTo = {
    plant,
    cell: subject.cell,
    machine: subject.machine,
    spindle: subject.spindleId,
    interface: undefined,
    assembly: undefined,
  };
  return (rules?.rows ?? []).flatMap(({ scope, settings }) => {
    const { interface: _interface, assembly: _assembly, ...rest } = scope;
    const tried = Object.fromEntries(TRIED_SETTINGS.map((name) => [name, settings[name]]));
    const isTried = TRIED_SETTINGS.some((name) => settings[name] !== undefined);
    return isTried && fitsScope(rest, to) ? [{ scope, settings: tried }] : [];
  });
}
