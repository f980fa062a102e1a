// counterpoise replay: a journal decided anew, to see that it says the same again, or what other limits would have changed.
import { InvalidArgumentError, type Command } from 'commander';
import { instantOf, rfc3339Of, type Instant } from '../../shared/time.ts';
import { expectDataDir } from '../data-dir.ts';
import { openReader, type JournalReader } from '../journal/index.ts';
import { replay, type Replayed } from '../recording/index.ts';
import { journalSettings } from '../stores.ts';
import { EXIT_OTHERWISE, EXIT_USAGE } from './exit-codes.ts';
import { LineOutput } from './line-output.ts';
import { readOther } from './other-rules.ts';
import { Progress } from './progress.ts';
import { replayWords } from './replay-words.ts';
import { settingsOf, withSettings, type Flags } from './settings-options.ts';

const EXPLAINED = `
Without --limits and --rules the rules of this release decide again what is on record, and it is compared to the last digit:
everything they said of every entry, and every hold with its evidence and steps. With a file it is compared with what its limits or
its rule set would have held, from --from on: as if they had been declared then, and instead of what was declared later.
Nothing is changed; the service may be running.

Exit codes: 0 done, and the same where no file is given; ${EXIT_OTHERWISE} something is otherwise than recorded; 1 failed, or
nothing stands there; 64 wrong use.

Examples:
  counterpoise replay --data /var/lib/counterpoise --plant north-1
  counterpoise replay --from 2026-08-01 --to 2026-11-01 --limits limits.yaml
`;

interface Window {
  readonly from?: Place;
  readonly to?: Place;
  readonly limits?: string;
  readonly rules?: string;
  readonly json?: boolean;
}

/** A position of the journal, or an instant. */
type Place = { readonly position: number } | { readonly at: Instant };

export function addReplay(program: Command): void {
  withSettings(program.command('replay'))
    .description('decide a journal anew: whether it says the same, or what other limits would have changed')
    .option('--from <when>', 'a day or an RFC 3339 time, or a position (default: the first entry)', placeOf)
    .option('--to <when>', 'the same; a day is looked at up to its beginning (default: the last entry)', placeOf)
    .option('--limits <file>', 'compare with these limits, zones and bearings: YAML or CSV, as for the verb limits')
    .option('--rules <file>', 'compare with this rule set: YAML')
    .option('--json', 'print JSON, all holds in full')
    .addHelpText('after', EXPLAINED)
    .action(replayJournal);
}

async function replayJournal(
  { from, to, limits, rules, json = false, ...flags }: Flags & Window,
  command: Command,
): Promise<void> {
  if (from !== undefined && to !== undefined && isBackwards(from, to))
    command.error('error: --to is not after --from. Expected the beginning before the end.', { exitCode: EXIT_USAGE });
  const settings = settingsOf(flags);
  expectDataDir(settings);
  const other = readOther({ limits, rules }, Date.now());
  const journal = await openReader(journalSettings(settings));
  try {
    const stretch = await stretchIn(journal, from, to);
    const progress = new Progress('replaying');
    const replayed = await replay({
      journal,
      plant: settings.plant,
      ...stretch,
      other: other?.rules,
      progress: (share) => progress.at(share),
    });
    progress.done();
    for (const words of other?.idle() ?? []) process.stderr.write(`${words}\n`);
    await print(replayed, { json, isOther: other !== undefined });
    if (other === undefined && isOtherwise(replayed)) process.exitCode = EXIT_OTHERWISE;
  } finally {
    await journal.close();
  }
}

async function print(replayed: Replayed, how: { readonly json: boolean; readonly isOther: boolean }): Promise<void> {
  const out = new LineOutput();
  const lines = how.json ? [JSON.stringify(replayed)] : replayWords(replayed, how.isOther);
  for (const line of lines) out.write(line);
  await out.end();
}

function isOtherwise({ outcomes, holds }: Replayed): boolean {
  const { both, onlyOnRecord, onlyNow } = holds;
  return outcomes.differing > 0 || onlyOnRecord.length + onlyNow.length > 0 || both.some((pair) => !pair.same);
}

function placeOf(text: string): Place {
  if (/^\d+$/.test(text)) return { position: Number(text) };
  const at = /^\d{4}-\d{2}-\d{2}(?:T.+)?$/.test(text) ? instantOf(text) : Number.NaN;
  if (!Number.isNaN(at)) return { at };
  throw new InvalidArgumentError('Expected a day such as 2026-11-01, an RFC 3339 time, or a position.');
}

/** A position and a time cannot be held against each other before the journal is read. */
function isBackwards(from: Place, to: Place): boolean {
  if ('position' in from) return 'position' in to && to.position < from.position;
  return 'at' in to && to.at <= from.at;
}

/** Throws where nothing stands there: of nothing all comes again the same. */
async function stretchIn(
  journal: JournalReader,
  from: Place | undefined,
  to: Place | undefined,
): Promise<{ readonly from: number; readonly to: number }> {
  const head = await journal.head();
  if (head.position === 0) throw new Error('nothing stands in the journal yet');
  const first = from === undefined ? 1 : Math.max(1, await firstFrom(journal, from));
  const last = to === undefined ? head.position : Math.min(head.position, await lastBefore(journal, to));
  if (first <= last) return { from: first, to: last };
  const asked = [['from', from] as const, ['to', to] as const].flatMap(([name, place]) =>
    place === undefined ? [] : [`--${name} ${'position' in place ? place.position : rfc3339Of(place.at)}`],
  );
  throw new Error(
    `nothing stands in the journal there (${asked.join(', ')}); it ends at position ${head.position}, ${rfc3339Of(head.at)}`,
  );
}

async function firstFrom(journal: JournalReader, place: Place): Promise<number> {
  return 'position' in place ? place.position : journal.positionFrom(place.at);
}

async function lastBefore(journal: JournalReader, place: Place): Promise<number> {
  return 'position' in place ? place.position : (await journal.positionFrom(place.at)) - 1;
}
