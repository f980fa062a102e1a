// Runs a verb of the command line in this process: what it prints, what it complains, and with which code it would end.
import { Command, CommanderError } from 'commander';
import { vi } from 'vitest';
import { addAnalyse } from '../../../services/commands/analyse-command.ts';
import { addBalanceCommands } from '../../../services/commands/balance-commands.ts';

export interface Ran {
  readonly printed: string;
  readonly complaint: string;
  readonly exitCode: number;
}

/** The words after the program's name. */
export async function runCommand(words: readonly string[]): Promise<Ran> {
  let printed = '';
  let complaint = '';
  const output = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += String(text);
    return true;
  });
  const program = new Command('counterpoise').exitOverride().configureOutput({
    writeErr: (text) => void (complaint += text),
  });
  addBalanceCommands(program);
  addAnalyse(program);
  try {
    await program.parseAsync(words, { from: 'user' });
    return { printed, complaint, exitCode: 0 };
  } catch (fault) {
    if (!(fault instanceof CommanderError)) throw fault;
    return { printed, complaint, exitCode: fault.exitCode };
  } finally {
    output.mockRestore();
  }
}

/** Words as a shell takes them apart: blanks between, double quotes around what holds blanks. */
export function wordsOf(line: string): string[] {
  return [...line.matchAll(/"([^"]*)"|\S+/g)].map(([whole, quoted]) => quoted ?? whole);
}
