// What a runner of this folder was asked for; where it cannot be read, what was wrong, how it is asked, and the end.
import { parseArgs, type ParseArgsConfig } from 'node:util';

const EXIT_USAGE = 64;

/** As util.parseArgs, with `--help`. Ends the process with the usage where that was asked for, or where an argument is not known. */
export function commandLine<T extends ParseArgsConfig>(usage: string, config: T): ReturnType<typeof parseArgs<T>> {
  if (process.argv.includes('--help')) {
    process.stdout.write(`${usage}\n`);
    process.exit(0);
  }
  try {
    return parseArgs(config);
  } catch (failure) {
    if (!(failure instanceof TypeError)) throw failure;
    return wrongUse(usage, faultWords(failure.message));
  }
}

/** Ends the process: first what was wrong, then how it is asked. */
export function wrongUse(usage: string, words: string): never {
  process.stderr.write(`${words}\n${usage}\n`);
  process.exit(EXIT_USAGE);
}

/** Of an option that counts; ends the process where it is none. */
export function countIn(usage: string, option: string, text: string): number {
  const count = text.trim() === '' ? Number.NaN : Number(text);
  if (Number.isSafeInteger(count) && count >= 1) return count;
  return wrongUse(usage, `${option}: expected a whole number from 1 on; came ${JSON.stringify(text)}`);
}

/** Node goes on to say how a file would be named that begins with a dash: nobody meant one. */
function faultWords(message: string): string {
  const [, option] = /^Unknown option '([^']+)'/.exec(message) ?? [];
  return option === undefined ? message : `unknown option ${option}`;
}
