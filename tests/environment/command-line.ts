// What a runner of this folder was asked for; where it cannot be read, how it is asked, and the end.
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
    process.stderr.write(`${failure.message}\n${usage}\n`);
    process.exit(EXIT_USAGE);
  }
}
