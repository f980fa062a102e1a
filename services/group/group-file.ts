// Which other plants there are: a file in YAML, a list of name, url, and the file with the token that each asks for.
import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { parse } from 'yaml';
import * as z from 'zod';
import { PLAIN } from '../../shared/fault-words.ts';
import { unreadableWords } from '../../shared/unreadable-words.ts';

export const OTHER_PLANTS_MAX = 50;

const Row = z.strictObject({
  name: z.string().trim().min(1).max(80).describe('as it is called on the page'),
  url: z.url({ protocol: /^https?$/, error: 'expected the address of its dashboard, https://…' }),
  tokenFile: z.string().min(1).describe('with what its standingTokenFile holds; seen from this file'),
  caFile: z.string().min(1).optional().describe('PEM of who signed its certificate, where no public authority did'),
});
const Rows = z
  .array(Row)
  .max(OTHER_PLANTS_MAX)
  .refine((rows) => new Set(rows.map(({ name }) => name)).size === rows.length, 'expected each name once');

export interface OtherPlant {
  readonly name: string;
  /** Without a slash at its end. */
  readonly url: string;
  readonly token: string;
  readonly authority: string | undefined;
}

/** Throws an Error with all that is wrong, in words. */
export function readGroupFile(path: string): readonly OtherPlant[] {
  const read = Rows.safeParse(parsed(path), PLAIN);
  if (!read.success) {
    const faults = read.error.issues.map((issue) => `${issue.path.join('.') || '(the list)'}: ${issue.message}`);
    throw new Error(`${path}: ${faults.join('; ')}`);
  }
  const beside = (file: string): string => textOf(resolve(dirname(path), file));
  return read.data.map(({ name, url, tokenFile, caFile }) => ({
    name,
    url: url.replace(/\/+$/, ''),
    token: beside(tokenFile).trim(),
    authority: caFile === undefined ? undefined : beside(caFile),
  }));
}

function parsed(path: string): unknown {
  const text = textOf(path);
  try {
    return parse(text);
  } catch (failure) {
    throw new Error(`${path}: ${failure instanceof Error ? failure.message : String(failure)}`, { cause: failure });
  }
}

function textOf(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (failure) {
    throw new Error(`${path} cannot be read: ${unreadableWords(failure)}`, { cause: failure });
  }
}
