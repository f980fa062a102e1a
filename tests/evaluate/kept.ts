// Verdicts of long scenarios kept in a file, a line each, so that a run of hours that was stopped goes on where it was.
import { appendFileSync, existsSync, readFileSync, truncateSync } from 'node:fs';
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
 * @throws NotKept where the file holds verdicts of other rules, or something else
 */
export function keptIn(file: string): Kept {
  const known = new Map<number, ScenarioVerdict>();
  const text = existsSync(file) ? readFileSync(file, 'utf8') : '';
  const whole = text.slice(0, text.lastIndexOf('\n') + 1);
  if (whole.length < text.length) truncateSync(file, Buffer.byteLength(whole));
  for (const line of whole.split('\n')) {
    if (line === '') continue;
    const { rules, verdict } = lineOf(line, file);
    if (rules !== RULES_VERSION)
      throw new NotKept(`${file} holds verdicts of ${rules}, these rules are ${RULES_VERSION}: name another file`);
    known.set(verdict.seed, verdict);
  }
  return {
    of: (seed) => known.get(seed),
    take: (verdict) => {
      const line: Line = { rules: RULES_VERSION, verdict };
      appendFileSync(file, `${JSON.stringify(line)}\n`);
    },
  };
}

function lineOf(line: string, file: string): Line {
  try {
    return JSON.parse(line) as Line;
  } catch {
    throw new NotKept(`${file} is no file of kept verdicts: a line of it begins “${line.slice(0, 40)}”`);
  }
}
