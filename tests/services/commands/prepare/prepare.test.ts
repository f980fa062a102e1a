// What makes a fresh checkout ready: it runs before there is anything to test it with, so its pieces are tried here.
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { makeFolder, type Folder } from '../../../environment/folder.ts';
import { runProgram, startProgram } from '../../../environment/program.ts';
import { waitFor } from '../../../environment/wait-for.ts';

interface Processes {
  readonly PreparationError: new (message: string) => Error & { readonly exitCode: number };
  readonly withLock: <T>(work: () => Promise<T>, path: string) => Promise<T>;
  readonly runTool: (
    program: string,
    args: readonly string[],
    options?: { readonly timeoutMs?: number },
  ) => Promise<{ readonly code: number; readonly output: string }>;
}
interface Dependencies {
  readonly checkNodeVersion: (version: string) => void;
  readonly isInstalled: (root: string) => boolean;
}

const CLI = fileURLToPath(new URL('../../../../build/services/commands/counterpoise.js', import.meta.url));
const COMMANDS = new URL('../../../../services/commands/', import.meta.url);
const { PreparationError, runTool, withLock } = (await load('prepare/processes.mjs')) as Processes;
const { checkNodeVersion, isInstalled } = (await load('prepare/dependencies.mjs')) as Dependencies;
let folder: Folder;

beforeEach(() => {
  folder = makeFolder('prepare');
});
afterEach(() => folder.remove());

function load(file: string): Promise<unknown> {
  return import(new URL(file, COMMANDS).href);
}

test.each(['18.20.4', '20.18.3', '9.0.0'])('Node %s is refused by name', (version) => {
  expect(() => checkNodeVersion(version)).toThrow(`this is Node ${version}`);
});

test.each(['20.19.0', '20.20.2', '22.0.0', '26.1.0'])('Node %s will do', (version) => {
  expect(() => checkNodeVersion(version)).not.toThrow();
});

test('an unknown command lists those there are', async () => {
  const script = fileURLToPath(new URL('prepare.mjs', COMMANDS));
  const { output } = await runProgram(process.execPath, { args: [script, 'frobnicate'], expected: [1] });
  expect(output).toContain('start, run, check, test');
});

test('in a fresh checkout help is there at once: nothing is installed or built for it', async () => {
  const bare = join(folder.path, 'services/commands');
  cpSync(fileURLToPath(new URL('prepare', COMMANDS)), join(bare, 'prepare'), { recursive: true });
  cpSync(fileURLToPath(new URL('prepare.mjs', COMMANDS)), join(bare, 'prepare.mjs'));
  const asked = async (...args: readonly string[]): Promise<string> =>
    (await runProgram(process.execPath, { args: [join(bare, 'prepare.mjs'), ...args] })).output;
  expect(await asked('start', '--help')).toMatch(/^Usage: npm start -- \[options\]\n[^]*--clock <rate>/);
  expect(await asked('run', 'serve', '-h')).toMatch(/^Usage: npm run counterpoise -- VERB[^]*enrol DEVICE/);
  expect(readdirSync(folder.path)).toEqual(['services']);
});

test('the short help names every verb and no other', async () => {
  const { shortHelp } = (await load('prepare/help.mjs')) as { shortHelp: (name: string, args: string[]) => string };
  const { output } = await runProgram(process.execPath, { args: [CLI, '--help'] });
  const verbs = (text: string): string[] => Array.from(text.matchAll(/^ {2}([a-z][a-z-]+)/gm), ([, verb = '']) => verb);
  expect(verbs(shortHelp('run', ['--help'])).toSorted()).toEqual(
    verbs(output)
      .filter((verb) => verb !== 'help')
      .toSorted(),
  );
  expect(shortHelp('run', ['rehearse', '--', '--help'])).toBeUndefined();
  expect(shortHelp('test', ['--help'])).toBeUndefined();
});

test('packages count as installed when each locked version is there, and an optional one may be absent', () => {
  const lock = (packages: Record<string, unknown>): string => JSON.stringify({ packages: { '': {}, ...packages } });
  const locked = { 'node_modules/a': { version: '1.0.0' }, 'node_modules/b': { version: '2.0.0', optional: true } };
  writeFileSync(join(folder.path, 'package-lock.json'), lock(locked));
  expect(isInstalled(folder.path)).toBe(false);
  mkdirSync(join(folder.path, 'node_modules'));
  const record = join(folder.path, 'node_modules/.package-lock.json');
  writeFileSync(record, lock({ 'node_modules/a': { version: '1.0.0' } }));
  expect(isInstalled(folder.path)).toBe(true);
  writeFileSync(record, lock({ 'node_modules/a': { version: '0.9.0' } }));
  expect(isInstalled(folder.path)).toBe(false);
  writeFileSync(record, lock({}));
  expect(isInstalled(folder.path)).toBe(false);
});

test('two preparations of one folder take turns', async () => {
  const path = join(folder.path, 'lock');
  const told: string[] = [];
  let letFirstEnd: () => void = () => undefined;
  const firstMayEnd = new Promise<void>((resolve) => (letFirstEnd = resolve));
  const first = withLock(async () => {
    told.push('first begins');
    await firstMayEnd;
    told.push('first ends');
  }, path);
  const second = withLock(async () => void told.push('second'), path);
  await waitFor('the first to have the lock', () => told.includes('first begins'));
  letFirstEnd();
  await Promise.all([first, second]);
  expect(told).toEqual(['first begins', 'first ends', 'second']);
});

test('a lock whose owner is gone is taken over', async () => {
  const path = join(folder.path, 'lock');
  const gone = startProgram('/bin/true');
  await gone.ended;
  writeFileSync(path, String(gone.pid));
  expect(await withLock(() => Promise.resolve(readFileSync(path, 'utf8')), path)).toBe(String(process.pid));
});

test('a tool’s exit code and output come back, a missing one is 127, a hanging one is ended', async () => {
  expect(await runTool('/bin/sh', ['-c', 'echo a; echo b >&2; exit 3'])).toEqual({ code: 3, output: 'a\nb\n' });
  expect((await runTool('/no/such/tool', [])).code).toBe(127);
  expect((await runTool('/bin/sleep', ['600'], { timeoutMs: 20 })).code).toBe(128 + 9);
  expect(new PreparationError('x').exitCode).toBe(1);
});

test('a signal ends the tool that is running, and then the preparation, with the signal’s code', async () => {
  const script = `import { runTool, PreparationError } from ${JSON.stringify(new URL('prepare/processes.mjs', COMMANDS).href)};
    const ran = runTool('/bin/sh', ['-c', 'echo $$ > ${folder.path}/pid; exec sleep 600']);
    ran.catch((error) => process.exit(error.exitCode));`;
  const preparation = startProgram(process.execPath, { args: ['--input-type=module', '-e', script] });
  const pid = await waitFor('the tool', () => readPid(join(folder.path, 'pid')));
  preparation.kill('SIGTERM');
  expect(await preparation.ended).toBe(128 + 15);
  expect(() => process.kill(pid, 0)).toThrow('ESRCH');
});

test('a process goes when the shell that npm put between is gone', async () => {
  const script = `import { endWithNpm } from ${JSON.stringify(new URL('prepare/processes.mjs', COMMANDS).href)};
    import { writeFileSync } from 'node:fs';
    endWithNpm();
    setInterval(() => {}, 1000);
    process.on('SIGTERM', () => (writeFileSync('${folder.path}/told', 'SIGTERM'), process.exit()));
    writeFileSync('${folder.path}/pid', String(process.pid));`;
  writeFileSync(join(folder.path, 'stay.mjs'), script);
  const command = `'${process.execPath}' '${folder.path}/stay.mjs'; true`;
  const shell = startProgram('/bin/sh', { args: ['-c', command], env: { npm_lifecycle_event: 'start' } });
  await waitFor('the process', () => readPid(join(folder.path, 'pid')));
  shell.kill('SIGKILL');
  expect(await waitFor('it to be told', () => existsSync(join(folder.path, 'told')))).toBe(true);
});

function readPid(path: string): number | undefined {
  try {
    const pid = Number(readFileSync(path, 'utf8'));
    return pid > 0 ? pid : undefined;
  } catch {
    return undefined;
  }
}
