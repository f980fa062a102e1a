// Child processes while preparing: one at a time, told of every signal, never left behind, with a sign of life when
// they are quiet for long. What is said goes to standard error, because standard output belongs to the command.
import { spawn } from 'node:child_process';
import { linkSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { constants } from 'node:os';
import { dirname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

/** The checkout's root folder. */
export const ROOT = fileURLToPath(new URL('../../..', import.meta.url));

const HEARTBEAT_MS = 10_000;
const LOCK_POLL_MS = 250;
const PARENT_WATCHED_EVERY_MS = 500;
const KEPT_OUTPUT_CHARACTERS_MAX = 20_000;
const FORWARDED_SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'];

/** Trouble that a person can mend: shown as one message, without a stack trace. */
export class PreparationError extends Error {
  constructor(message, exitCode = 1) {
    super(message);
    this.exitCode = exitCode;
  }
}

export function say(text) {
  process.stderr.write(`counterpoise: ${text}\n`);
}

/** A step that may take long: what it does, then its time. */
export async function step(title, work) {
  const startedAt = Date.now();
  const seconds = () => Math.round((Date.now() - startedAt) / 1000);
  say(`${title} …`);
  const heartbeat = setInterval(() => say(`${title} … ${seconds()} s so far`), HEARTBEAT_MS);
  try {
    return await work();
  } finally {
    clearInterval(heartbeat);
    if (seconds() >= 1) say(`${title}: ${seconds()} s`);
  }
}

/**
 * Runs a program to its end. A signal that reaches this process is passed on, and ends this process once the program
 * has gone. `output`: 'stderr' shows it as it comes, 'inherit' leaves the streams alone, 'keep' returns it.
 */
export function runTool(program, args, { cwd = ROOT, env = process.env, output = 'keep', timeoutMs } = {}) {
  return new Promise((settle, reject) => {
    const stdio = { keep: ['ignore', 'pipe', 'pipe'], stderr: ['ignore', 2, 2], inherit: 'inherit' }[output];
    let asked;
    const pass = (signal) => {
      asked = signal;
      child.kill(signal);
    };
    // Listening begins before the program does: a signal in between would end this process and leave the program.
    for (const signal of FORWARDED_SIGNALS) process.on(signal, pass);
    const child = spawn(program, args, { cwd, env, stdio });
    let kept = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream?.setEncoding('utf8').on('data', (text) => {
        kept = (kept + text).slice(-KEPT_OUTPUT_CHARACTERS_MAX);
      });
    }
    const timer = timeoutMs === undefined ? undefined : setTimeout(() => child.kill('SIGKILL'), timeoutMs);
    const tidy = () => {
      clearTimeout(timer);
      for (const signal of FORWARDED_SIGNALS) process.off(signal, pass);
    };
    child.on('error', (error) => {
      tidy();
      if (error.code === 'ENOENT') settle({ code: 127, output: `${program} was not found` });
      else reject(error);
    });
    child.on('close', (code, signal) => {
      tidy();
      if (asked !== undefined) reject(new PreparationError(`stopped by ${asked}`, 128 + constants.signals[asked]));
      else settle({ code: code ?? 128 + constants.signals[signal], output: kept });
    });
  });
}

/** Lets one preparation at a time touch node_modules/ and build/; a lock whose owner is gone is taken over. */
export async function withLock(work, path = join(ROOT, 'build', '.preparing')) {
  mkdirSync(dirname(path), { recursive: true });
  let told = false;
  while (!take(path)) {
    if (!told) say(`waiting for another preparation of this folder to end (if there is none, remove ${path}) …`);
    told = true;
    await wait(LOCK_POLL_MS);
  }
  try {
    return await work();
  } finally {
    rmSync(path, { force: true });
  }
}

function take(path) {
  const own = `${path}-${process.pid}`;
  writeFileSync(own, String(process.pid));
  try {
    linkSync(own, path);
    return true;
  } catch (error) {
    if (error.code !== 'EEXIST') throw error;
    if (!isOwnerAlive(path)) rmSync(path, { force: true });
    return false;
  } finally {
    rmSync(own, { force: true });
  }
}

function isOwnerAlive(path) {
  try {
    process.kill(Number(readFileSync(path, 'utf8')), 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

/**
 * npm runs its scripts in a shell, which does not pass on the signal that ends it: when the shell is gone, this process
 * is told here. Started by hand there is no shell of npm's, and outliving one's parent is then somebody's wish.
 */
export function endWithNpm() {
  if (process.env.npm_lifecycle_event === undefined) return;
  const parent = process.ppid;
  const watch = setInterval(() => {
    if (process.ppid === parent) return;
    clearInterval(watch);
    process.kill(process.pid, 'SIGTERM');
  }, PARENT_WATCHED_EVERY_MS);
  watch.unref();
}
