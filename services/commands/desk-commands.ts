// The verbs of somebody at a desk: they do their work and end, beside a service or without one.
import type { Command } from 'commander';
import { addAnalyse } from './analyse-command.ts';
import { addBalanceCommands } from './balance-commands.ts';
import { addDeviceCommands } from './device-commands.ts';
import { addHeadroom } from './headroom-command.ts';
import { addLimits } from './limits-command.ts';
import { messageReference } from './message-reference.ts';
import { addRecordingCommands } from './recording-commands.ts';
import { addReplay } from './replay-command.ts';
import { addRules } from './rules-command.ts';
import { addVerify } from './verify-command.ts';

export function addDeskCommands(program: Command): void {
  addDeviceCommands(program);
  addRecordingCommands(program);
  addReplay(program);
  addVerify(program);
  addHeadroom(program);
  addBalanceCommands(program);
  addAnalyse(program);
  addLimits(program);
  addRules(program);
  program
    .command('message-reference')
    .description('print the reference of all messages, made from the schemas, as Markdown')
    .action(() => void process.stdout.write(messageReference()));
}
