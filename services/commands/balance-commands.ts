// The balance calculations of the command line: for anyone, without a server.
import type { Command } from 'commander';
import { addBearingLoad } from './bearing-load-command.ts';
import { addCombine } from './combine-command.ts';
import { addCorrect } from './correct-command.ts';
import { addIndex } from './index-command.ts';
import { addJudge } from './judge-command.ts';
import { addPermissible } from './permissible-command.ts';
import { addPlanes } from './planes-command.ts';
import { addReference } from './reference-command.ts';
import { addTrim } from './trim-command.ts';

export function addBalanceCommands(program: Command): void {
  addPermissible(program);
  addJudge(program);
  addIndex(program);
  addPlanes(program);
  addCombine(program);
  addTrim(program);
  addCorrect(program);
  addBearingLoad(program);
  addReference(program);
}
