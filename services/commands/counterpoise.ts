#!/usr/bin/env -S MALLOC_ARENA_MAX=2 node --max-semi-space-size=4
// The command line: one program, verbs of plain English. Exit codes: 0 done, 1 failed, 3 not as recorded, 64 wrong use, 78 wrong settings.
import { Command, CommanderError } from 'commander';
import { SettingsFault } from '../settings.ts';
import { VERSION } from '../version.ts';
import { EXIT_CONFIG, EXIT_FAILED, EXIT_USAGE } from './exit-codes.ts';
import { failureWords } from './failure-words.ts';
import { WrongUse } from './wrong-use.ts';
import { addServiceCommands } from './service-commands.ts';

// Whatever it writes is for its owner alone: secrets, names, and what machines do when.
process.umask(0o077);
for (const stream of [process.stdout, process.stderr]) {
  // Whoever read along has seen enough; that is no reason to end a service, and commands end when a write fails.
  stream.on('error', (failure: Error) => {
    if (!isBrokenPipe(failure)) throw failure;
  });
}

const program = new Command('counterpoise')
  .description(
    'Relates what balancing benches measure to what spindles do, and keeps holds until what releases them has happened.\n' +
      'Advisory only: the limits of the machine and tool makers govern, and local rules.',
  )
  .version(VERSION)
  .showHelpAfterError('(counterpoise --help tells more)')
  .exitOverride();

addServiceCommands(program);
// A service runs for months: what it never does at a desk is not even read into its memory.
if (!program.commands.some((command) => command.name() === process.argv[2])) {
  const { addDeskCommands } = await import('./desk-commands.ts');
  addDeskCommands(program);
}

try {
  await program.parseAsync();
} catch (failure) {
  process.exitCode = exitCodeOf(failure);
}

function exitCodeOf(failure: unknown): number {
  if (failure instanceof CommanderError) return failure.exitCode === 0 ? 0 : EXIT_USAGE;
  if (isBrokenPipe(failure)) return 0;
  if (failure instanceof WrongUse) {
    // As the verbs say it that find it before they begin.
    process.stderr.write(`error: ${failure.message}\n`);
    return EXIT_USAGE;
  }
  process.stderr.write(`${failureWords(failure)}\n`);
  return failure instanceof SettingsFault ? EXIT_CONFIG : EXIT_FAILED;
}

function isBrokenPipe(failure: unknown): boolean {
  return failure instanceof Error && 'code' in failure && failure.code === 'EPIPE';
}
