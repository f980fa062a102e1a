// A rule set in words and as YAML, and what one changes against another.
import { say } from './language/index.ts';
import {
  RULE_SETTINGS,
  SCOPE_KEYS,
  type RuleRow,
  type RuleScope,
  type RuleSet,
  type RuleSettingName,
  type ScopeKey,
} from './rule-settings.ts';
import { amountWords } from './wording.ts';

/** Without a place for the name: a text "plant {0}" would be looked for in what people write, such as "plant rule 7". */
const SCOPE_WORDS: Readonly<Record<ScopeKey, string>> = {
  plant: say`plant`,
  cell: say`cell`,
  interface: say`interface`,
  assembly: say`assembly`,
  machine: say`machine`,
  spindle: say`spindle`,
};

/** "spindle S-04". */
export const namedWords = (key: ScopeKey, name: string): string => `${SCOPE_WORDS[key]} ${name}`;

/** "spindle S-04, cell grinding"; the whole plant where a scope names nothing. */
export function scopeWords(scope: RuleScope): string {
  const named = SCOPE_KEYS.toReversed().flatMap((key) =>
    scope[key] === undefined ? [] : [namedWords(key, scope[key])],
  );
  return named.length === 0 ? say`the whole plant` : named.join(', ');
}

export function settingWords(name: RuleSettingName, value: number): string {
  switch (name) {
    case 'persistenceReadings':
      return value === 1 ? say`one reading over a limit is enough` : say`at least ${value} readings over a limit`;
    case 'persistenceS':
      return say`spanning ${secondsWords(value)} or more`;
    case 'pauseMaxS':
      return say`a pause of more than ${secondsWords(value)} begins anew`;
    case 'clearShare':
      return say`a stay ends below ${amountWords(100 * value)} % of the limit`;
    case 'unexplainedLogOdds':
      return say`unexplained vibration is held from odds of ${amountWords(Math.exp(value))} to 1 on`;
    case 'verificationReadings':
      return say`a run that verifies a repair has ${value} readings`;
  }
}

function secondsWords(value: number): string {
  if (value >= 3600 && value % 3600 === 0) return `${value / 3600} h`;
  return value >= 60 && value % 60 === 0 ? `${value / 60} min` : `${value} s`;
}

/** Of the settings that are not in TRIED_SETTINGS: where they are tried. */
export const UNTRIED_WORDS = say`A try-out tries limits and how long they must be exceeded. From which odds unexplained vibration is held, and how many readings verify a repair, is tried with counterpoise replay --rules FILE, which decides everything anew.`;

export function rowWords({ scope, settings }: RuleRow): string {
  const said = RULE_SETTINGS.flatMap((name) => {
    const value = settings[name];
    return value === undefined ? [] : [settingWords(name, value)];
  });
  return `${scopeWords(scope)}: ${said.join(', ')}`;
}

export interface RuleChanges {
  readonly adds: readonly string[];
  readonly removes: readonly string[];
}

/** Rows of one that the other has not, in words; that rows changed places is said where it may matter. */
export function ruleChanges(before: RuleSet | undefined, after: RuleSet): RuleChanges {
  const was = (before?.rows ?? []).map(rowWords);
  const is = after.rows.map(rowWords);
  const adds = is.filter((words) => !was.includes(words));
  const removes = was.filter((words) => !is.includes(words));
  const isOnlyMoved = adds.length + removes.length === 0 && was.join('\n') !== is.join('\n');
  return {
    adds: isOnlyMoved ? [say`the rows stand in another order: of two that name the same the later counts`] : adds,
    removes,
  };
}

/** As it would be written by hand; what YAML could take for something else is quoted. */
export function ruleSetYaml({ version, name, author, note, rows }: RuleSet): string {
  const head = [`version: ${version}`, `name: ${quoted(name)}`, `author: ${quoted(author)}`, `note: ${quoted(note)}`];
  if (rows.length === 0) return `${[...head, 'rows: []'].join('\n')}\n`;
  return `${[...head, 'rows:', ...rows.flatMap(rowLines)].join('\n')}\n`;
}

function rowLines({ scope, settings }: RuleRow): readonly string[] {
  const named = SCOPE_KEYS.flatMap((key) => (scope[key] === undefined ? [] : [`${key}: ${quoted(scope[key])}`]));
  const set = RULE_SETTINGS.flatMap((name) =>
    settings[name] === undefined ? [] : [`      ${name}: ${settings[name]}`],
  );
  return [`  - scope: { ${named.join(', ')} }`.replace('{  }', '{}'), '    settings:', ...set];
}

const quoted = (text: string): string => JSON.stringify(text);
