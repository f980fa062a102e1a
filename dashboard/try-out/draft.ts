// The draft as a person edits it: rows of settings and of other limits as they stand in fields, and what they come to. Pure.
import { say } from '../../shared/language/index.ts';
import {
  RULE_SETTINGS,
  SETTING_BOUNDS,
  TRIED_SETTINGS,
  type RuleRow,
  type RuleScope,
  type RuleSet,
  type RuleSettingName,
} from '../../shared/rule-settings.ts';
import { namedWords, scopeWords } from '../../shared/rule-words.ts';
import type { LimitTry } from '../../shared/try-out.ts';
import { asTyped, numberTyped } from '../wording/typed-number.ts';

export const SCOPE_KINDS = ['plant', 'cell', 'interface', 'assembly', 'machine', 'spindle'] as const;
export type ScopeKind = (typeof SCOPE_KINDS)[number];
export const LIMIT_SCOPE_KINDS = ['plant', 'cell', 'machine', 'spindle'] as const;

export interface SettingRow {
  /** What it is for, where that is one name or the whole plant; else the scope as the text has it. */
  readonly kind: ScopeKind | undefined;
  readonly name: string;
  readonly scope: RuleScope;
  readonly values: Readonly<Record<RuleSettingName, string>>;
}

export interface LimitRow {
  readonly kind: (typeof LIMIT_SCOPE_KINDS)[number];
  readonly name: string;
  readonly quantity: LimitTry['quantity'];
  readonly how: 'times' | 'limitMmS';
  readonly value: string;
  readonly source: string;
}

export interface DraftRows {
  readonly settings: readonly SettingRow[];
  readonly limits: readonly LimitRow[];
}

const NOTHING: Readonly<Record<RuleSettingName, string>> = {
  persistenceReadings: '',
  persistenceS: '',
  pauseMaxS: '',
  clearShare: '',
  unexplainedLogOdds: '',
  verificationReadings: '',
};
export const NEW_SETTING_ROW: SettingRow = { kind: 'plant', name: '', scope: {}, values: NOTHING };
export const NEW_LIMIT_ROW: LimitRow = {
  kind: 'plant',
  name: '',
  quantity: 'overall',
  how: 'times',
  value: asTyped(0.9),
  source: '',
};

export function rowsOf(rules: RuleSet | undefined): readonly SettingRow[] {
  return (rules?.rows ?? []).map(({ scope, settings }) => {
    const values = Object.fromEntries(RULE_SETTINGS.map((name) => [name, asText(settings[name])]));
    return { ...kindOf(scope), scope, values: values as SettingRow['values'] };
  });
}

const asText = (value: number | undefined): string => (value === undefined ? '' : asTyped(value));

function kindOf(scope: RuleScope): Pick<SettingRow, 'kind' | 'name'> {
  const named = SCOPE_KINDS.flatMap((kind) => (scope[kind] === undefined ? [] : [{ kind, name: scope[kind] }]));
  const [first] = named;
  if (first === undefined) return { kind: 'plant', name: '' };
  // The plant by its own name is a scope that only the text shows.
  return named.length === 1 && first.kind !== 'plant' ? first : { kind: undefined, name: '' };
}

const scopeOf = ({ kind, name, scope }: SettingRow): RuleScope => {
  if (kind === undefined) return scope;
  return kind === 'plant' ? {} : { [kind]: name.trim() };
};

/** Whether a row sets what a try-out does not go through history for. */
export function setsUntried(rows: readonly SettingRow[]): boolean {
  return rows.some(({ values }) => RULE_SETTINGS.some((name) => values[name] !== '' && !TRIED_SETTINGS.includes(name)));
}

export type Come<T> = { readonly kind: 'good'; readonly value: T } | { readonly kind: 'wrong'; readonly words: string };

function whichRow(kind: Exclude<ScopeKind, 'plant'>): string {
  switch (kind) {
    case 'cell':
      return say`Say which cell a row is for; * stands for any characters.`;
    case 'interface':
      return say`Say which interface a row is for; * stands for any characters.`;
    case 'assembly':
      return say`Say which assembly a row is for; * stands for any characters.`;
    case 'machine':
      return say`Say which machine a row is for; * stands for any characters.`;
    case 'spindle':
      return say`Say which spindle a row is for; * stands for any characters.`;
  }
}

function whichLimits(kind: Exclude<LimitRow['kind'], 'plant'>): string {
  switch (kind) {
    case 'cell':
      return say`Say which cell other limits are for; * stands for any characters.`;
    case 'machine':
      return say`Say which machine other limits are for; * stands for any characters.`;
    case 'spindle':
      return say`Say which spindle other limits are for; * stands for any characters.`;
  }
}

/** The rule set of a draft; what is wrong with the first row that cannot be one. `like` gives it its head. */
export function ruleSetOf(rows: readonly SettingRow[], head: Omit<RuleSet, 'rows'>): Come<RuleSet> {
  const made: RuleRow[] = [];
  for (const row of rows) {
    const where = row.kind === undefined ? scopeWords(row.scope) : namedWords(row.kind, row.name).trim();
    if (row.kind !== undefined && row.kind !== 'plant' && row.name.trim() === '')
      return { kind: 'wrong', words: whichRow(row.kind) };
    const settings: { [N in RuleSettingName]?: number } = {};
    for (const name of RULE_SETTINGS) {
      const text = row.values[name].trim();
      if (text === '') continue;
      const { least, most, whole, words } = SETTING_BOUNDS[name];
      const value = numberTyped(text, { inThousands: whole }) ?? Number.NaN;
      if (!(value >= least && value <= most) || (whole && !Number.isInteger(value)))
        return {
          kind: 'wrong',
          words: whole
            ? say`${where}, ${words}: expected a whole number from ${asTyped(least)} to ${asTyped(most)}.`
            : say`${where}, ${words}: expected a number from ${asTyped(least)} to ${asTyped(most)}.`,
        };
      settings[name] = value;
    }
    if (Object.keys(settings).length === 0)
      return { kind: 'wrong', words: say`${where}: a row sets at least one thing.` };
    made.push({ scope: scopeOf(row), settings });
  }
  return { kind: 'good', value: { ...head, rows: made } };
}

/** Other limits of a draft. With `sourced` each has to say who says so. */
export function limitTriesOf(rows: readonly LimitRow[], sourced: boolean): Come<readonly LimitTry[]> {
  const made: LimitTry[] = [];
  for (const { kind, name, quantity, how, value: text, source } of rows) {
    if (kind !== 'plant' && name.trim() === '') return { kind: 'wrong', words: whichLimits(kind) };
    const value = numberTyped(text) ?? Number.NaN;
    const most = how === 'times' ? 10 : 1000;
    const least = how === 'times' ? 0.1 : 0.01;
    if (text.trim() === '' || !(value >= least && value <= most))
      return { kind: 'wrong', words: say`Other limits: expected a number from ${asTyped(least)} to ${asTyped(most)}.` };
    if (sourced && source.trim() === '')
      return { kind: 'wrong', words: say`Say of each limit who says so, such as the machine maker and the sheet.` };
    made.push({
      scope: kind === 'plant' ? {} : { [kind]: name.trim() },
      quantity,
      [how]: value,
      ...(source.trim() === '' ? {} : { source: source.trim() }),
    });
  }
  return { kind: 'good', value: made };
}
