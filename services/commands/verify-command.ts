// counterpoise verify: whether what was decided and what people did is still what was written down.
import { InvalidArgumentError, type Command } from 'commander';
import { wholeWords } from '../../shared/wording.ts';
import { expectDataDir } from '../data-dir.ts';
import { linkOfText, linkText, openReader, verifyChain, type ChainVerdict, type Link } from '../journal/index.ts';
import { journalSettings } from '../stores.ts';
import { EXIT_OTHERWISE } from './exit-codes.ts';
import { Progress } from './progress.ts';
import { settingsOf, withSettings, type Flags } from './settings-options.ts';

const EXPLAINED = `
Everything that was decided and everything that people did is chained, each by a SHA-256 that holds the one before; devices'
messages and what readings were worth are not. A change, a gap or an insertion is found, and where. Whoever can write the whole
store could make the whole chain anew, or cut off its end: note the link that is printed somewhere else, and say it with --noted.
Nothing is changed; the service may be running.

Exit codes: 0 whole; ${EXIT_OTHERWISE} not as it was written down; 1 failed; 64 wrong use.

Examples:
  counterpoise verify --data /var/lib/counterpoise --plant north-1
  counterpoise verify --noted 52298:9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08
`;

interface Asked {
  readonly noted?: Link;
  readonly json?: boolean;
}

export function addVerify(program: Command): void {
  withSettings(program.command('verify'))
    .description('check that what was decided and done is as it was written down')
    .option('--noted <position:hash>', 'a link that was noted elsewhere, or the last line of an export', linkOf)
    .option('--json', 'print JSON')
    .addHelpText('after', EXPLAINED)
    .action(verify);
}

async function verify({ noted, json = false, ...flags }: Flags & Asked): Promise<void> {
  const settings = settingsOf(flags);
  expectDataDir(settings);
  const journal = await openReader(journalSettings(settings));
  try {
    const progress = new Progress('verifying');
    const verdict = await verifyChain(journal, { noted, progress: (share) => progress.at(share) });
    progress.done();
    process.stdout.write(json ? `${JSON.stringify(asJson(verdict))}\n` : `${verdictWords(verdict).join('\n')}\n`);
    if (verdict.kind === 'broken') process.exitCode = EXIT_OTHERWISE;
  } finally {
    await journal.close();
  }
}

function asJson(verdict: ChainVerdict): object {
  if (verdict.kind === 'broken') return verdict;
  const { head, ...said } = verdict;
  return head === undefined ? said : { ...said, head: linkText(head) };
}

function verdictWords(verdict: ChainVerdict): readonly string[] {
  const { after } = verdict;
  const before = after === 0 ? [] : [`up to ${after} nothing is chained: an earlier release wrote that`];
  if (verdict.kind === 'broken') {
    const { first, last, wholeThrough, why } = verdict;
    const where = first === last ? `at position ${first}` : `at positions ${first} to ${last}`;
    return [`not whole, ${where}: ${why}`, `up to ${wholeThrough} it is as it was written down`, ...before];
  }
  const { through, items, head } = verdict;
  return [
    `whole from ${after + 1} to ${through}: ${wholeWords(items)} decisions and acts are as they were written down`,
    ...before,
    ...(head === undefined ? [] : [`note elsewhere: ${linkText(head)}`]),
  ];
}

function linkOf(text: string): Link {
  const link = linkOfText(text);
  if (link !== undefined) return link;
  throw new InvalidArgumentError('Expected a position, a colon, and 64 hexadecimal digits, as verify prints them.');
}
