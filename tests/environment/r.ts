// R with lme4 and survival (Debian's r-cran-lme4, r-cran-survival): a second opinion on shared effects and on lives, asked once and answered once.
import { spawnSync } from 'node:child_process';
import { findProgram } from './program.ts';

/** Runs a script with a table of comma-separated values on its standard input; what it prints is the answer. */
export function askR(script: URL, table: string): string {
  const asked = spawnSync(findProgram('Rscript'), ['--vanilla', script.pathname], { input: table, encoding: 'utf8' });
  if (asked.error !== undefined) throw asked.error;
  if (asked.status !== 0) throw new Error(`${script.pathname} ended with ${asked.status}:\n${asked.stderr}`);
  return asked.stdout;
}
