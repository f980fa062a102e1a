// rehearse, import and export: what a recording would have said, a recording into a journal, and a journal as a recording.
import { mkdirSync } from 'node:fs';
import type { Command } from 'commander';
import { isOpen } from '../../shared/holds.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { openReader } from '../journal/index.ts';
import { journalSettings } from '../main.ts';
import { exportLines, importRecording, rehearse, type Rehearsed, type RehearsalReport } from '../recording/index.ts';
import { linesOf } from './recording-lines.ts';
import { settingsOf, withSettings } from './settings-options.ts';

export function addRecordingCommands(program: Command): void {
  program
    .command('rehearse')
    .description('take a recording (JSON lines) through intake and rules, offline, in its own time')
    .argument('<file>', 'a line each: {"topic", "at", "envelope"}; - for standard input')
    .option('--plant <id>', "the plant of the topics (default: the first line's)")
    .option('--tick-s <seconds>', 'how often the clock is put in where the recording has no ticks; 0 for never', '10')
    .option('--json', 'JSON lines: remarks, decisions, and the holds at the end')
    .addHelpText(
      'after',
      '\nExample:\n  counterpoise export > week.jsonl && counterpoise rehearse week.jsonl --json | tail -1\n',
    )
    .action(async (file: string, { plant, tickS, json }: { plant?: string; tickS: string; json?: boolean }) => {
      const out = new Output();
      const report = await rehearse(linesOf(file), {
        ...(plant === undefined ? {} : { plant }),
        tickMs: Number(tickS) * 1000,
        say: (said) => void out.write(json === true ? JSON.stringify(said) : wordsOf(said)),
        progress: (lines) => void process.stderr.write(`${lines.toLocaleString('en')} lines …\n`),
      });
      await out.write(json === true ? JSON.stringify({ kind: 'report', ...report }) : reportWords(report));
      await out.end();
    });
  withSettings(program.command('import'))
    .description('play a recording into a journal, in its own time; the service must not be running')
    .argument('<file>', 'a recording; - for standard input')
    .action(async (file: string, flags: Record<string, unknown>) => {
      const settings = settingsOf(flags);
      mkdirSync(settings.data, { recursive: true, mode: 0o700 });
      const { lines, faults, position } = await importRecording(linesOf(file), {
        plant: settings.plant,
        journal: journalSettings(settings),
      });
      process.stdout.write(`${lines} lines, ${faults} not readable; the journal stands at ${position}\n`);
    });
  withSettings(program.command('export'))
    .description('print a journal as a recording, a JSON line per entry')
    .option('--from <position>', 'first position', '1')
    .option('--to <position>', 'last position')
    .action(async ({ from, to, ...flags }: Record<string, unknown>) => {
      const settings = settingsOf(flags);
      const journal = await openReader(journalSettings(settings));
      const out = new Output();
      for await (const line of exportLines(
        journal,
        settings.plant,
        Number(from),
        to === undefined ? undefined : Number(to),
      )) {
        await out.write(JSON.stringify(line));
      }
      await out.end();
      await journal.close();
    });
}

/** Lines to standard output in large pieces; waits when whoever reads is slower. */
class Output {
  #text = '';

  write(line: string): Promise<void> {
    this.#text += `${line}\n`;
    return this.#text.length < 65_536 ? Promise.resolve() : this.#flush();
  }

  end(): Promise<void> {
    return this.#flush();
  }

  #flush(): Promise<void> {
    const text = this.#text;
    this.#text = '';
    return new Promise((resolve, reject) => {
      process.stdout.write(text, (failure) => (failure ? reject(failure) : resolve()));
    });
  }
}

function wordsOf(said: Rehearsed): string {
  switch (said.kind) {
    case 'line-fault':
      return `line ${said.line}: ${said.why}`;
    case 'rejected':
      return `${said.at}  rejected ${said.topic}: ${said.problem.title}`;
    case 'hold-raised':
      return `${said.at}  hold ${said.hold.holdId} on ${said.hold.subject.kind} ${said.hold.subject.id}: ${said.hold.reason}`;
    case 'hold-repeated':
      return `${said.at}  hold ${said.holdId} again, at ${said.cause}`;
    case 'hold-stepped':
      return `${said.at}  hold ${said.holdId} ${said.step.state} by ${said.step.by}`;
    case 'act-refused':
      return `${said.at}  ${said.act} of ${said.holdId} refused: ${said.why}`;
    case 'gate-answered':
      return `${said.at}  gate ${said.answer.spindleId} / ${said.answer.assemblyId}: ${said.answer.word}, ${said.answer.why}`;
    case 'state-changed':
      return `${said.at}  ${said.subject.kind} ${said.subject.id} ${said.state}: ${said.why}`;
    case 'remarked':
      return `${said.at}  ${said.subject.kind} ${said.subject.id}: ${said.remark}`;
  }
}

function reportWords({ lines, faults, kept, duplicates, rejected, holds }: RehearsalReport): string {
  const open = holds.filter(isOpen);
  const list = open.map(
    (hold) =>
      `  ${hold.holdId}  ${hold.subject.kind} ${hold.subject.id}  ${hold.reason}  since ${rfc3339Of(hold.raisedAt)}`,
  );
  return [
    `${lines} lines: ${kept} kept, ${duplicates} repeats, ${rejected} rejected, ${faults} not readable`,
    `${holds.length} holds, ${open.length} of them open at the end`,
    ...list,
  ].join('\n');
}
