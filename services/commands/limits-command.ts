// counterpoise limits: what a file of limits says, fault by fault; and with an address what it would change there, or its sending.
import type { Command } from 'commander';
import { limitFaultWords } from '../../shared/limit-fault-words.ts';
import { LimitsImported } from '../../shared/limits-import.ts';
import { amountWords, rpmWords } from '../../shared/wording.ts';
import { faultsOfFile, readLimitFile, type LimitFile } from '../limit-files/index.ts';
import { textOf } from './readable-file.ts';
import { PASSWORD_FROM, withSession } from './service-session.ts';

const EXAMPLE = `
A file as CSV, with a head; or as YAML, with lists under limits, zones and bearings:
  spindleId,quantity,fromSpeedRpm,toSpeedRpm,limitMmS,source,sourceDate
  S-01,overall,1000,24000,2.8,"spindle maker, sheet 12",2026-03-12

Examples:
  counterpoise limits limits.csv
  ${PASSWORD_FROM}=… counterpoise limits limits.yaml --send http://127.0.0.1:8470 --user ada --check
  ${PASSWORD_FROM}=… counterpoise limits limits.yaml --send http://127.0.0.1:8470 --user ada

What the file says of a spindle's quantity replaces what was declared of it; the rest stays. All of a file or nothing.
`;

interface Flags {
  readonly send?: string;
  readonly user?: string;
  readonly check?: boolean;
  readonly json?: boolean;
}

export function addLimits(program: Command): void {
  program
    .command('limits')
    .description('what a file of vibration limits, zones and bearings says; with --send, what it changes')
    .argument('<file>', 'YAML or CSV')
    .option('--send <url>', `the service; signs in as --user with the password in ${PASSWORD_FROM}`)
    .option('--user <name>', 'who declares the limits: an engineer')
    .option('--check', 'with --send: say what would change, and change nothing')
    .option('--json', 'print JSON')
    .addHelpText('after', EXAMPLE)
    .action(limits);
}

async function limits(path: string, flags: Flags): Promise<void> {
  const text = textOf(path);
  const file = readLimitFile(text);
  const found = faultsOfFile(file, Date.now());
  const faults = found.map(limitFaultWords);
  if (flags.send === undefined || faults.length > 0) {
    print(flags, found.length > 0 ? { faults: found } : asJson(file), faults.length > 0 ? faults : says(file));
    if (faults.length > 0) throw new Error(`nothing was done: ${counted(faults.length, 'fault')} in ${path}`);
    return;
  }
  const imported = await send(flags.send, flags, text);
  const words = [...imported.faults.map(limitFaultWords), ...changesOf(imported)];
  print(flags, imported, words);
  if (imported.faults.length > 0)
    throw new Error(`nothing was done: ${counted(imported.faults.length, 'fault')} in ${path}`);
}

function print({ json }: Flags, values: unknown, words: readonly string[]): void {
  process.stdout.write(json === true ? `${JSON.stringify(values)}\n` : `${words.join('\n')}\n`);
}

function asJson({ limits: rows, zones, bearings }: LimitFile): unknown {
  const plain = (list: LimitFile['limits'] | LimitFile['zones'] | LimitFile['bearings']) =>
    list.map(({ spindleId, line, value }) => ({ spindleId, line, ...value }));
  return { limits: plain(rows), zones: plain(zones), bearings: plain(bearings) };
}

function says({ limits: rows, zones, bearings }: LimitFile): readonly string[] {
  const spindles = new Set([...rows, ...zones, ...bearings].map((row) => row.spindleId));
  const all = [
    counted(rows.length, 'limit'),
    counted(zones.length, 'table', ' of zones'),
    counted(bearings.length, 'bearing'),
  ];
  return [
    `${all.join(', ')} for ${counted(spindles.size, 'spindle')}; no fault found`,
    ...rows.map(({ spindleId, value }) => {
      const speeds = `${rpmWords(value.fromSpeedRpm)} to ${rpmWords(value.toSpeedRpm)}`;
      const quantity = value.quantity === 'overall' ? 'overall' : '1×';
      return `  ${spindleId}  ${quantity}, ${speeds}: ${amountWords(value.limitMmS)} mm/s RMS; ${value.source}`;
    }),
    ...zones.map(({ spindleId, value }) => {
      const ends = [value.abMmS, value.bcMmS, value.cdMmS].map(amountWords).join(', ');
      const general = value.generic ? ' (a general table of machines: no standard of spindles)' : '';
      return `  ${spindleId}  zones A/B, B/C, C/D at ${ends} mm/s RMS; ${value.source}${general}`;
    }),
    ...bearings.map(({ spindleId, value }) => `  ${spindleId}  bearing ${value.name}; ${value.source}`),
    'What it would change is said with --send and --check. The limits of the machine makers govern.',
  ];
}

function changesOf({ done, faults, changes }: LimitsImported): readonly string[] {
  const lines = changes.flatMap(({ spindleId, adds, removes, same }) => [
    `${spindleId}: ${counted(same, 'row')} as before`,
    ...removes.map((words) => `  - ${words}`),
    ...adds.map((words) => `  + ${words}`),
  ]);
  if (faults.length > 0) return lines;
  const isAnything = changes.some(({ adds, removes }) => adds.length + removes.length > 0);
  if (!isAnything) return [...lines, 'all of it is declared so already: nothing to change'];
  return [...lines, done ? 'declared' : 'only checked: nothing was changed'];
}

function counted(count: number, what: string, more = ''): string {
  return `${count} ${what}${count === 1 ? '' : 's'}${more}`;
}

async function send(url: string, { user, check = false }: Flags, text: string): Promise<LimitsImported> {
  return withSession(url, user, async ({ post }) =>
    LimitsImported.parse(await post(`/api/limits/import?check=${String(check)}`, { text })),
  );
}
