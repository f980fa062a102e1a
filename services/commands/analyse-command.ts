// counterpoise analyse: what a recording of a hand-held instrument says, and what it cannot say; without a server.
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { basename } from 'node:path';
import { Argument, Option, type Command } from 'commander';
import { ADVISORY, VIBRATION_IS_NO_VERDICT, WHERE_IT_TURNS } from '../../shared/cautions.ts';
import {
  analyseChannel,
  channelSentence,
  COLUMN_UNITS,
  DECIMAL_MARKS,
  faultWords,
  readRecordedFile,
  tooLargeWords,
  type ChannelAnalysis,
  type ChannelQuestion,
  type FileChannel,
  type RecordedFile,
} from '../../shared/recorded-file/index.ts';
import { unreadableWords } from '../../shared/unreadable-words.ts';
import { analysisExplained } from './analyse-explanations.ts';
import { channelQuestion, readingChoices } from './analyse-flags.ts';
import { channelTables } from './analyse-tables.ts';
import { LINE_TABLES, linesTable, linesValues, type LineTableName } from './analyse-lines.ts';
import { calculating, many, once, type FlagReader } from './calculation-options.ts';
import type { Answer } from './explain.ts';
import { Progress } from './progress.ts';
import { ValueFault } from './value-units.ts';

const EXAMPLE = `
The file is a table as text (CSV) or a WAV file. A table names its columns and units in a line over its numbers:
  time [s];front X [g];front Y [g]
A WAV file carries no unit: --scale says what its full scale stands for, else levels are relative.

Examples:
  counterpoise analyse front.csv --speed 18000 --teeth 4 --bearing "front: 19 7.9 57 15"
  counterpoise analyse front.wav --scale 50g --speed 18000 --channel 1
`;

export function addAnalyse(program: Command): void {
  const command = program
    .command('analyse')
    .description(
      'what a recording of vibration says: its health first, then levels, orders, bearings, and what it cannot tell',
    )
    .addArgument(new Argument('<file>', 'a table as text (CSV) or a WAV file'))
    .option('--channel <name>', 'only this one, by its name or number; may be repeated', many)
    .option('--rate <value>', 'sample rate: 25600, in Hz; goes before what the file says', once)
    .option('--speed <value>', 'of the shaft, as the machine showed it: 18000, in rpm', once)
    .option('--scale <value>', 'what the full scale of a WAV file stands for: 50g, 490m/s2', once)
    .addOption(
      new Option('--unit <unit>', 'of the columns of acceleration, instead of what the table says').choices(
        COLUMN_UNITS,
      ),
    )
    .option('--sensitivity <value>', 'of the sensor, for columns in volts: 100mV/g', once)
    .addOption(new Option('--decimal <mark>', 'where a table can be read in two ways').choices(DECIMAL_MARKS))
    .option('--teeth <count>', 'of the cutter', once)
    .option(
      '--bearing <sizes>',
      'name: elements, their diameter and pitch diameter in mm, contact angle; may be repeated',
      many,
    )
    .option('--bearings <file>', 'YAML or JSON: a list of bearings, by geometry or the maker’s multiples', once)
    .option('--band <hz>', 'of the overall velocity: 10-1000', once)
    .option('--envelope-band <hz>', 'where the envelope is taken: 2000-6000; found unless told', once)
    .addOption(new Option('--table <name>', 'add the lines of the window in the middle').choices(LINE_TABLES))
    .addHelpText('after', EXAMPLE);
  calculating(command, (read, path) => analyse(read, path ?? ''));
}

function analyse(read: FlagReader, path: string): Answer {
  const question = channelQuestion(read);
  const file = fileAt(path, read);
  const channels = chosen(file.channels, read.texts('channel'));
  const analyses = channels.map((channel) => analysed(channel, question, read));
  const table = read.text('table') as LineTableName | undefined;
  const lines = table === undefined ? [] : channels.map((channel, i) => ({ channel, analysis: analyses[i]!, table }));
  return {
    sentence: [
      `${basename(path)}: ${file.format}, ${counted(file.channels.length)}.`,
      ...analyses.map(channelSentence),
    ].join('\n'),
    tables: [
      ...analyses.flatMap((analysis) => channelTables(analysis, question, read.system)),
      ...lines.map((one) => linesTable(one, question, read.system)),
    ],
    remarks: file.remarks,
    explanations: analysisExplained(analyses[0], question),
    cautions: [ADVISORY, VIBRATION_IS_NO_VERDICT, WHERE_IT_TURNS],
    values: {
      file: basename(path),
      format: file.format,
      channels: analyses.map((analysis, i) => ({
        ...analysis,
        ...(lines[i] === undefined ? {} : linesValues(lines[i], question)),
      })),
    },
  };
}

const counted = (channels: number): string => `${channels} ${channels === 1 ? 'channel' : 'channels'}`;

type Read = Extract<RecordedFile, { kind: 'read' }>;

/** Throws a ValueFault with every fault of the file by its line. */
function fileAt(path: string, read: FlagReader): Read {
  const choices = readingChoices(read);
  const file = readRecordedFile(bytesAt(path), choices);
  if (file.kind === 'read') return file;
  const more = file.faultsMore === 0 ? [] : [`and ${file.faultsMore} more`];
  const [first = '', ...rest] = [...file.faults.map(faultWords), ...more];
  throw new ValueFault([`${path}: ${first}`, ...rest.map((words) => `  ${words}`)].join('\n'));
}

/** Read piece by piece up to its limit, for what is no file, such as a pipe, does not say how long it is. */
function bytesAt(path: string): Uint8Array {
  const pieces: Uint8Array[] = [];
  let length = 0;
  try {
    const file = openSync(path, 'r');
    try {
      const told = fstatSync(file).size;
      if (tooLargeWords(told) !== undefined) length = told;
      while (tooLargeWords(length) === undefined) {
        const piece = new Uint8Array(PIECE_BYTES);
        const came = readSync(file, piece);
        if (came === 0) return Buffer.concat(pieces, length);
        pieces.push(piece.subarray(0, came));
        length += came;
      }
    } finally {
      closeSync(file);
    }
  } catch (fault) {
    throw new ValueFault(`${path} cannot be read: ${unreadableWords(fault)}`);
  }
  throw new ValueFault(`${path}: ${tooLargeWords(length) ?? ''}`);
}

const PIECE_BYTES = 1024 * 1024;

/** By name, else by number from 1; all where none is named. */
function chosen(channels: readonly FileChannel[], names: readonly string[]): readonly FileChannel[] {
  if (names.length === 0) return channels;
  return names.map((name) => {
    const channel = channels.find((one) => one.name === name) ?? channels[Number(name) - 1];
    if (channel !== undefined) return channel;
    const known = channels.map((one, i) => `${i + 1} (${one.name})`).join(', ');
    throw new ValueFault(`--channel: expected ${known}; came ${JSON.stringify(name)}`);
  });
}

/** Says how far it is where it takes more than one window. */
function analysed(channel: FileChannel, question: ChannelQuestion, read: FlagReader): ChannelAnalysis {
  let progress: Progress | undefined;
  const analysis = analyseChannel(channel, question, (done, of) => {
    if (of === 1 || read.has('json')) return;
    progress ??= new Progress(`analysing ${channel.name}`);
    progress.at(done / of);
  });
  progress?.done();
  return analysis;
}
