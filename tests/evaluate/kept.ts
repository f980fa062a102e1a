// Verdicts of long scenarios kept in a file, a line each, so that a run of hours that was stopped goes on where it was.
import { appendFileSync, existsSync, readFileSync, truncateSync } from 'node:fs';
import { dirname } from 'node:path';
import { RULES_VERSION } from '../../services/rules/index.ts';
import type { ScenarioVerdict } from './long/index.ts';

export interface Kept {
  of(seed: number): ScenarioVerdict | undefined;
  take(verdict: ScenarioVerdict): void;
}

export const KEPT_NOWHERE: Kept = { of: () => undefined, take: () => undefined };

/** A file that verdicts can't be kept in. */
export class NotKept extends Error {}

interface Line {
  readonly rules: string;
  readonly verdict: ScenarioVerdict;
}

/**
 * Of one rules version only; a change of the rules that has no version of its own is not seen. A last line that was not written whole
 * is dropped, and its seed played again.
 * @throws NotKept where the file holds verdicts of other rules, or something else, or cannot be read and written
 */
export function keptIn(file: string): Kept {
  const known = new Map<number, ScenarioVerdict>();
  const text = within(file, () => (existsSync(file) ? readFileSync(file, 'utf8') : ''));
  const whole = text.slice(0, text.lastIndexOf('\n') + 1);
  for (const line of whole.split('\n')) {
    if (line === '') continue;
    const { rules, verdict } = lineOf(line, file);
    if (rules !== RULES_VERSION)
      throw new NotKept(`${file} holds verdicts of ${rules}, these rules are ${RULES_VERSION}: name another file`);
    known.set(verdict.seed, verdict);
  }
  within(file, () => {
    if (whole.length < text.length) truncateSync(file, Buffer.byteLength(whole));
    // Written to before anything is played: the first verdict comes after minutes.
    appendFileSync(file, '');
  });
  return {
    of: (seed) => known.get(seed),
    take: (verdict) => {
      const line: Line = { rules: RULES_VERSION, verdict };
      appendFileSync(file, `${JSON.stringify(line)}\n`);
    },
  };
}

function lineOf(line: string, file: string): Line {
  const value = parsed(line);
  if (isLine(value)) return value;
  throw new NotKept(`${file} is no file of kept verdicts: a line of it begins “${line.slice(0, 40)}”`);
}

function parsed(line: string): unknown {
  try {
    return JSON.parse(line) as unknown;
  } catch {
    return undefined;
  }
}

function isLine(value: unknown): value is Line {
  if (typeof value !== 'object' || value === null || !('rules' in value) || !('verdict' in value)) return false;
  const { rules, verdict } = value;
  const isVerdict = typeof verdict === 'object' && verdict !== null && 'seed' in verdict;
  return typeof rules === 'string' && isVerdict && typeof verdict.seed === 'number';
}

function within<T>(file: string, work: () => T): T {
  try {
    return work();
  } catch (failure) {
    throw new NotKept(`verdicts cannot be kept in ${file}: ${whyWords(failure, file)}`);
  }
}

function whyWords(failure: unknown, file: string): string {
  switch ((failure as NodeJS.ErrnoException).code) {
    case 'ENOENT':
      return `there is no folder ${dirname(file)}`;
    case 'ENOTDIR':
      return `${dirname(file)} is no folder`;
    case 'EISDIR':
      return 'it is a directory; expected a file';
    case 'EACCES':
    case 'EPERM':
      return 'this user has no right to it';
    case undefined:
    default:
      return failure instanceof Error ? failure.message : String(failure);
  }
}
