// What people may tune of the rules: each setting with its bounds and unit, where a row of a rule set counts, and which row wins.
import { say } from './language/index.ts';

/** In the order in which a page or a file shows them. */
export const RULE_SETTINGS = [
  'persistenceReadings',
  'persistenceS',
  'pauseMaxS',
  'clearShare',
  'unexplainedLogOdds',
  'verificationReadings',
] as const;
export type RuleSettingName = (typeof RULE_SETTINGS)[number];

export interface SettingBounds {
  readonly least: number;
  readonly most: number;
  readonly whole: boolean;
  /** UCUM; 1 where it is a count or a share. */
  readonly unit: string;
  readonly words: string;
}

/** Beyond these a setting would no longer do what its words say. Common practice, no source. */
export const SETTING_BOUNDS: Readonly<Record<RuleSettingName, SettingBounds>> = {
  persistenceReadings: {
    least: 1,
    most: 1000,
    whole: true,
    unit: '1',
    words: say`readings over a limit before a hold`,
  },
  persistenceS: { least: 0, most: 86_400, whole: true, unit: 's', words: say`time that they span at least` },
  pauseMaxS: {
    least: 60,
    most: 604_800,
    whole: true,
    unit: 's',
    words: say`longest pause within one stay over a limit`,
  },
  clearShare: { least: 0.5, most: 1, whole: false, unit: '1', words: say`share of the limit below which a stay ends` },
  unexplainedLogOdds: {
    least: 1,
    most: 12,
    whole: false,
    unit: '1',
    words: say`ln of the odds from which unexplained vibration is held`,
  },
  verificationReadings: {
    least: 3,
    most: 1000,
    whole: true,
    unit: '1',
    words: say`readings of a run that verifies a repair`,
  },
};

/** What a try-out goes through history for; what the others change is said by a whole replay. */
export const TRIED_SETTINGS: readonly RuleSettingName[] = [
  'persistenceReadings',
  'persistenceS',
  'pauseMaxS',
  'clearShare',
];

export type RuleSettings = { readonly [N in RuleSettingName]?: number | undefined };

/**
 * From the least specific to the most: where two rows set the same, the one that names more to the right counts, and of two that
 * name the same the later one.
 */
export const SCOPE_KEYS = ['plant', 'cell', 'interface', 'assembly', 'machine', 'spindle'] as const;
export type ScopeKey = (typeof SCOPE_KEYS)[number];

/** Names, in which * stands for any characters. All that are given must fit; none at all is the whole plant. */
export type RuleScope = { readonly [K in ScopeKey]?: string | undefined };

export interface RuleRow {
  readonly scope: RuleScope;
  readonly settings: RuleSettings;
}

export interface RuleSet {
  /** A number of its own for each content: a set is put in force again under the number that it had. */
  readonly version: number;
  readonly name: string;
  /** Who wrote it; who put it in force stands with the act. */
  readonly author: string;
  readonly note: string;
  readonly rows: readonly RuleRow[];
}

/** What a scope is held against. */
export type ScopedTo = { readonly [K in ScopeKey]: string | undefined };

/** Whether every name of the scope fits. What is not known fits only a name that is not asked for. */
export function fitsScope(scope: RuleScope, to: ScopedTo): boolean {
  return SCOPE_KEYS.every((key) => {
    const wanted = scope[key];
    return wanted === undefined || fitsName(wanted, to[key]);
  });
}

/** No regular expression is made of what a person wrote: a run over both, going back to the last star only. */
function fitsName(pattern: string, name: string | undefined): boolean {
  if (name === undefined) return false;
  let at = 0;
  let place = 0;
  let star = -1;
  let starPlace = 0;
  while (place < name.length) {
    if (at < pattern.length && pattern[at] === '*') {
      star = at;
      starPlace = place;
      at += 1;
    } else if (at < pattern.length && pattern[at] === name[place]) {
      at += 1;
      place += 1;
    } else if (star >= 0) {
      starPlace += 1;
      place = starPlace;
      at = star + 1;
    } else return false;
  }
  while (pattern[at] === '*') at += 1;
  return at === pattern.length;
}

/** Greater is more specific. */
export function weightOf(scope: RuleScope): number {
  return SCOPE_KEYS.reduce((weight, key, place) => weight + (scope[key] === undefined ? 0 : 2 ** place), 0);
}

/** Each setting from the most specific row that names it; nothing of what no row names. */
export function settingsFor(rows: readonly RuleRow[], to: ScopedTo): RuleSettings {
  const fitting = rows.filter(({ scope }) => fitsScope(scope, to));
  const found: { -readonly [N in RuleSettingName]?: number } = {};
  for (const { settings } of fitting.toSorted((a, b) => weightOf(a.scope) - weightOf(b.scope))) {
    for (const name of RULE_SETTINGS) {
      const value = settings[name];
      if (value !== undefined) found[name] = value;
    }
  }
  return found;
}

export const ROWS_PER_RULE_SET_MAX = 200;
/** Sets that are remembered beside the one in force; older ones stand in the journal. */
export const RULE_SETS_KEPT_MAX = 20;
