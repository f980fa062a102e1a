// rehearse, import and export: what a recording would have said, a recording into a journal, and a journal as a recording.
import { resolve } from 'node:path';
import type { Command } from 'commander';
import { MILLISECONDS_A_SECOND } from '../../shared/time.ts';
import { expectDataDir, takeDataDir } from '../data-dir.ts';
import { openReader } from '../journal/index.ts';
import { exportLines, importRecording, rehearse, type RehearsalReport } from '../recording/index.ts';
import { journalSettings } from '../stores.ts';
import { LineOutput } from './line-output.ts';
import { linesOf } from './recording-lines.ts';
import { reportWords, wordsOf } from './rehearsal-words.ts';
import { numberIn, settingsOf, withSettings, type Flags } from './settings-options.ts';

export function addRecordingCommands(program: Command): void {
  program
    .command('rehearse')
    .description('take a recording (JSON lines) through intake and rules, offline, in its own time')
    .argument('<file>', 'a line each: {"topic", "at", "envelope"}; - for standard input')
    .option('--plant <id>', "the plant of the topics (default: the first line's)")
    .option('--tick-s <seconds>', 'how often the clock is put in where no export brings it; 0: never', TICKS, 10)
    .option('--json', 'JSON lines: remarks, decisions, and the holds at the end')
    .addHelpText(
      'after',
      '\nExample:\n  counterpoise export > week.jsonl && counterpoise rehearse week.jsonl --json | tail -1\n',
    )
    .action(rehearseFile);
  withSettings(program.command('import'))
    .description('play a recording into a journal, in its own time; the service must not be running')
    .argument('<file>', 'a recording; - for standard input')
    .action(importFile);
  withSettings(program.command('export'))
    .description('print a journal as a recording, a JSON line per entry')
    .option('--from <position>', 'first position', POSITIONS, 1)
    .option('--to <position>', 'last position', POSITIONS)
    .action(exportJournal);
}

const TICKS = numberIn({ min: 0, max: 86_400 });
const POSITIONS = numberIn({ min: 1, max: Number.MAX_SAFE_INTEGER });

interface RehearseFlags {
  readonly plant?: string;
  readonly tickS: number;
  readonly json?: boolean;
}

async function rehearseFile(file: string, { plant, tickS, json = false }: RehearseFlags): Promise<void> {
  const out = new LineOutput();
  let firstFault: string | undefined;
  const report = await rehearse(linesOf(file), {
    ...(plant === undefined ? {} : { plant }),
    tickMs: tickS * MILLISECONDS_A_SECOND,
    say: (said) => {
      if (said.kind === 'line-fault' || said.kind === 'rejected') firstFault ??= wordsOf(said);
      out.write(json ? JSON.stringify(said) : wordsOf(said));
    },
    keepUp: () => out.keepUp(),
    progress: (lines) => void process.stderr.write(`${lines.toLocaleString('en')} lines …\n`),
  });
  out.write(json ? JSON.stringify({ kind: 'report', ...report }) : reportWords(report));
  await out.end();
  if (report.used === 0 && firstFault !== undefined) throw new Error(nothingUsable(report, firstFault));
}

function nothingUsable({ lines, faults, rejected }: RehearsalReport, firstFault: string): string {
  return `nothing in it can be used: of ${lines} lines ${faults} are not readable, ${rejected} rejected. The first: ${firstFault}`;
}

async function importFile(file: string, flags: Flags): Promise<void> {
  const settings = settingsOf(flags);
  // Before a directory is made for what cannot be read.
  const lines = linesOf(file);
  if (takeDataDir(settings).isNew) process.stderr.write(`new data directory made: ${resolve(settings.data)}\n`);
  let firstFault: string | undefined;
  const imported = await importRecording(lines, {
    plant: settings.plant,
    journal: journalSettings(settings),
    fault: (line, why) => {
      firstFault ??= `line ${line}: ${why}`;
      process.stderr.write(`line ${line}: ${why}\n`);
    },
  });
  const { lines: count, faults, position } = imported;
  process.stdout.write(`${count} lines, ${faults} not readable; the journal stands at ${position}\n`);
  if (faults === count && firstFault !== undefined) {
    throw new Error(`nothing in it can be used: none of ${count} lines is readable. The first: ${firstFault}`);
  }
}

async function exportJournal({ from, to, ...flags }: Flags & { readonly from: number; readonly to?: number }) {
  const settings = settingsOf(flags);
  expectDataDir(settings);
  const journal = await openReader(journalSettings(settings));
  const out = new LineOutput();
  try {
    for await (const line of exportLines(journal, settings.plant, from, to)) {
      out.write(JSON.stringify(line));
      await out.keepUp();
    }
    await out.end();
  } finally {
    await journal.close();
  }
}
