// Python with NumPy and SciPy (Debian's python3-scipy): a second opinion on numbers, asked once and answered once.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { findProgram } from './program.ts';

/** Debian's own Python, which sees Debian's modules, comes before one that a person has put on the PATH. */
const DEBIAN_PYTHON = '/usr/bin/python3';
const ANSWER_BYTES_MAX = 256 * 1024 * 1024;

export function pythonProgram(): string {
  return existsSync(DEBIAN_PYTHON) ? DEBIAN_PYTHON : findProgram('python3');
}

/** Runs a script with the question as JSON on its standard input; what it prints is the answer, as JSON. */
export function askPython<A>(script: URL, question: unknown): A {
  const asked = spawnSync(pythonProgram(), [script.pathname], {
    input: JSON.stringify(question),
    encoding: 'utf8',
    maxBuffer: ANSWER_BYTES_MAX,
  });
  if (asked.error !== undefined) throw asked.error;
  if (asked.status !== 0) throw new Error(`${script.pathname} ended with ${asked.status}:\n${asked.stderr}`);
  return JSON.parse(asked.stdout) as A;
}
