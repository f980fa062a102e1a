// counterpoise rules: what a rule set says, fault by fault; with an address what is in force there, what it would change, or its being put in force.
import type { Command } from 'commander';
import { RULE_SETTINGS, SETTING_BOUNDS, type RuleSet } from '../../shared/rule-settings.ts';
import { rowWords, ruleChanges, settingWords } from '../../shared/rule-words.ts';
import { RulesView } from '../../shared/try-out.ts';
import { readRuleFile } from '../limit-files/index.ts';
import { SETTING_DEFAULTS } from '../rules/index.ts';
import { textOf } from './readable-file.ts';
import { PASSWORD_FROM, withSession } from './service-session.ts';
import { WrongUse } from './wrong-use.ts';

const EXAMPLE = `
A rule set as YAML; the most specific row counts, and of two that name the same the later:
  version: 2
  name: "calmer at run-up"
  author: "ada"
  rows:
    - scope: { cell: "milling" }
      settings: { persistenceReadings: 8, persistenceS: 120 }

Examples:
  counterpoise rules
  counterpoise rules rules.yaml
  ${PASSWORD_FROM}=… counterpoise rules --send http://127.0.0.1:8470 --user ada
  ${PASSWORD_FROM}=… counterpoise rules rules.yaml --send http://127.0.0.1:8470 --user ada --check
  ${PASSWORD_FROM}=… counterpoise rules rules.yaml --send http://127.0.0.1:8470 --user ada --why "three holds at run-up"

In force from then on; the set before is put back by sending its file again. Try it on history first: the page Try-out.
`;

interface Flags {
  readonly send?: string;
  readonly user?: string;
  readonly why?: string;
  readonly check?: boolean;
  readonly json?: boolean;
}

export function addRules(program: Command): void {
  program
    .command('rules')
    .description(
      'what a rule set says, or the defaults; with --send, what is in force, what it changes, or put in force',
    )
    .argument('[file]', 'a rule set, YAML')
    .option('--send <url>', `the service; signs in as --user with the password in ${PASSWORD_FROM}`)
    .option('--user <name>', 'who puts it in force: an engineer')
    .option('--why <words>', 'the reason, which stays on record')
    .option('--check', 'with --send: say what would change, and change nothing')
    .option('--json', 'print JSON')
    .addHelpText('after', EXAMPLE)
    .action(rules);
}

async function rules(path: string | undefined, flags: Flags): Promise<void> {
  const set = path === undefined ? undefined : setIn(path, flags);
  if (flags.send === undefined) {
    if (set === undefined) return print(flags, { defaults: SETTING_DEFAULTS }, defaultsWords());
    return print(flags, { rules: set }, setWords(set));
  }
  const { send, user, check = false, why } = flags;
  if (set !== undefined && !check && (why ?? '').trim() === '')
    throw new WrongUse('--why: expected the reason in words, or --check; both are missing');
  await withSession(send, user, async ({ get, post }) => {
    const before = RulesView.parse(await get('/api/rules')).sets.at(-1);
    if (set === undefined) {
      const words =
        before === undefined
          ? defaultsWords()
          : [...setWords(before.rules), `put in force by ${before.by}: ${before.why}`];
      return print(flags, { inForce: before ?? null }, words);
    }
    const { adds, removes } = ruleChanges(before?.rules, set);
    if (!check) await post('/api/rules', { rules: set, limits: [], why });
    const lines = [...removes.map((words) => `  - ${words}`), ...adds.map((words) => `  + ${words}`)];
    const ending = check ? 'only checked: nothing was changed' : 'in force from now on';
    print(flags, { done: !check, adds, removes }, [
      ...(lines.length === 0 ? ['nothing is other than now'] : lines),
      ending,
    ]);
  });
}

function setIn(path: string, flags: Flags): RuleSet {
  const read = readRuleFile(textOf(path));
  if (read.kind === 'rules') return read.rules;
  const lines = read.faults.map(({ line, field, want, got }) => {
    const where = [...(line === 0 ? [] : [`line ${line}`]), ...(field === '' ? [] : [field])].join(', ');
    return `${where === '' ? path : where}: expected ${want}${got === '' ? '' : `, not ${got}`}`;
  });
  print(flags, { faults: read.faults }, lines);
  throw new Error(`nothing was done: ${lines.length} ${lines.length === 1 ? 'fault' : 'faults'} in ${path}`);
}

function setWords({ version, name, author, note, rows }: RuleSet): readonly string[] {
  return [
    `version ${version}, ${name}, written by ${author}${note === '' ? '' : `: ${note}`}`,
    ...(rows.length === 0 ? ['  the defaults everywhere'] : rows.map((row) => `  ${rowWords(row)}`)),
  ];
}

function defaultsWords(): readonly string[] {
  return [
    'the defaults; a rule set may set each of them, within its bounds:',
    ...RULE_SETTINGS.map((name) => {
      const { least, most } = SETTING_BOUNDS[name];
      return `  ${name}: ${SETTING_DEFAULTS[name]}, from ${least} to ${most} (${settingWords(name, SETTING_DEFAULTS[name])})`;
    }),
  ];
}

function print({ json }: Flags, values: unknown, words: readonly string[]): void {
  process.stdout.write(json === true ? `${JSON.stringify(values)}\n` : `${words.join('\n')}\n`);
}
