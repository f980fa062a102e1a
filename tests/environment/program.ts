// Foreign programs: started for a test, watched until they are ready, and gone with it. On Linux they also end when
// the test's own process is killed.
import { spawn, type ChildProcess } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { waitFor } from './wait-for.ts';

const STOP_WITHIN_MS = 10_000;
const OUTPUT_CHARACTERS_MAX = 1_000_000;
const SETPRIV = '/usr/bin/setpriv';
/** Where Debian keeps programs that are not on everybody's PATH. */
const MORE_FOLDERS = ['/usr/sbin', '/usr/local/bin', '/usr/local/sbin', '/opt/homebrew/bin'];

export interface ProgramOptions {
  readonly args?: readonly string[];
  readonly env?: Readonly<Record<string, string>>;
  readonly cwd?: string;
  readonly user?: { readonly uid: number; readonly gid: number };
  readonly stopSignal?: NodeJS.Signals;
}

export interface Program {
  readonly pid: number;
  /** Everything printed so far, both streams. */
  output(): string;
  write(text: string): void;
  endInput(): void;
  onLine(take: (line: string) => void): void;
  /** The exit code, or the signal's name. */
  readonly ended: Promise<number | NodeJS.Signals>;
  kill(signal: NodeJS.Signals): void;
  stop(): Promise<void>;
}

/** The path of the first of these programs that is installed. */
export function findProgram(...names: readonly string[]): string {
  const folders = [...(process.env['PATH'] ?? '').split(delimiter), ...MORE_FOLDERS, ...postgresFolders()];
  for (const name of names) {
    for (const folder of folders) {
      if (existsSync(join(folder, name))) return join(folder, name);
    }
  }
  throw new Error(`none of these is installed: ${names.join(', ')}; npm test says what to install`);
}

/** Debian keeps each version's server programs apart; the newest comes first. */
function postgresFolders(): readonly string[] {
  const root = '/usr/lib/postgresql';
  if (!existsSync(root)) return [];
  const versions = readdirSync(root).toSorted((a, b) => Number(b) - Number(a));
  return versions.map((version) => join(root, version, 'bin'));
}

export function startProgram(path: string, options: ProgramOptions = {}): Program {
  const args = options.args ?? [];
  const [program, programArgs] = existsSync(SETPRIV)
    ? [SETPRIV, ['--pdeathsig', 'KILL', '--', path, ...args]]
    : [path, [...args]];
  const child = spawn(program, programArgs, {
    cwd: options.cwd,
    env: { ...process.env, ...options.env },
    stdio: 'pipe',
    ...options.user,
  });
  if (child.pid === undefined) throw new Error(`${path} could not be started`);
  return watch(child, child.pid, options.stopSignal ?? 'SIGTERM');
}

function watch(child: ChildProcess, pid: number, stopSignal: NodeJS.Signals): Program {
  let output = '';
  const takers = new Set<(line: string) => void>();
  for (const stream of [child.stdout, child.stderr]) {
    let rest = '';
    stream?.setEncoding('utf8').on('data', (text: string) => {
      output = (output + text).slice(-OUTPUT_CHARACTERS_MAX);
      const lines = (rest + text).split('\n');
      rest = lines.pop() ?? '';
      for (const line of lines) for (const take of takers) take(line);
    });
  }
  // A program that ended before it read what it was sent is told by its exit code.
  child.stdin?.on('error', () => undefined);
  const ended = new Promise<number | NodeJS.Signals>((resolve) => {
    child.on('close', (code, signal) => resolve(code ?? signal ?? 'SIGKILL'));
  });
  return {
    pid,
    ended,
    output: () => output,
    write: (text) => void child.stdin?.write(text),
    endInput: () => void child.stdin?.end(),
    onLine: (take) => void takers.add(take),
    kill: (signal) => void child.kill(signal),
    stop: async () => {
      const impatience = setTimeout(() => child.kill('SIGKILL'), STOP_WITHIN_MS);
      child.kill(stopSignal);
      await ended;
      clearTimeout(impatience);
    },
  };
}

/** Runs a program to its end, with `input` on its standard input; fails unless its exit code is one of `expected`. */
export async function runProgram(
  path: string,
  options: ProgramOptions & { readonly input?: string; readonly expected?: readonly number[] } = {},
): Promise<{ readonly code: number | NodeJS.Signals; readonly output: string }> {
  const program = startProgram(path, options);
  program.write(options.input ?? '');
  program.endInput();
  const code = await program.ended;
  const expected: readonly (number | NodeJS.Signals)[] = options.expected ?? [0];
  if (!expected.includes(code)) throw new Error(`${path} ended with ${code}:\n${program.output()}`);
  return { code, output: program.output() };
}

/** Waits until the program has printed this; fails at once, with its output, when it ends instead. */
export async function untilPrinted(program: Program, text: string | RegExp): Promise<void> {
  let end: number | NodeJS.Signals | undefined;
  void program.ended.then((code) => (end = code));
  await waitFor(`${String(text)} in the output of process ${program.pid}`, () => {
    if (typeof text === 'string' ? program.output().includes(text) : text.test(program.output())) return true;
    if (end !== undefined) throw new Error(`ended with ${end} before it was ready:\n${program.output()}`);
    return undefined;
  });
}
