// A file that a command is given and that cannot be read is told in one sentence, by every verb alike, and before anything is made.
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Command } from 'commander';
import { afterAll, expect, test } from 'vitest';
import { addLimits } from '../../../services/commands/limits-command.ts';
import { openedAt, textOf, UnreadableFile } from '../../../services/commands/readable-file.ts';
import { addRecordingCommands } from '../../../services/commands/recording-commands.ts';
import { linesOf } from '../../../services/commands/recording-lines.ts';
import { addReplay } from '../../../services/commands/replay-command.ts';
import { addRules } from '../../../services/commands/rules-command.ts';
import { makeFolder } from '../../environment/folder.ts';

const folder = makeFolder('readable');
afterAll(() => folder.remove());
const none = join(folder.path, 'none');
const data = join(folder.path, 'data');

function run(...words: readonly string[]): Promise<unknown> {
  const program = new Command('counterpoise').exitOverride().configureOutput({ writeErr: () => undefined });
  for (const add of [addLimits, addRules, addReplay, addRecordingCommands]) add(program);
  return program.parseAsync(words, { from: 'user' });
}

const verbs: readonly (readonly string[])[] = [
  ['limits'],
  ['rules'],
  ['rehearse'],
  ['import', '--plant', 'p1', '--data', data],
];

test.each(verbs)('%s: no such file, and a directory', async (...verb) => {
  await expect(run(...verb, none)).rejects.toThrow(new UnreadableFile(`${none} cannot be read: there is no such file`));
  await expect(run(...verb, folder.path)).rejects.toThrow(
    new UnreadableFile(`${folder.path} cannot be read: it is a directory; expected a file`),
  );
  expect(existsSync(data)).toBe(false);
});

test.each(['--limits', '--rules'])('replay %s', async (flag) => {
  writeFileSync(join(folder.path, 'plant'), 'p1\n');
  await expect(run('replay', '--data', folder.path, '--plant', 'p1', flag, none)).rejects.toThrow(
    new UnreadableFile(`${none} cannot be read: there is no such file`),
  );
});

test('a part of the path that is a file', () => {
  const file = join(folder.path, 'file');
  writeFileSync(file, 'a\nb\n');
  expect(() => textOf(join(file, 'x'))).toThrow('cannot be read: a part of its path is no directory');
  expect(() => openedAt(join(file, 'x'))).toThrow(UnreadableFile);
});

test('the lines of a file that can be read', async () => {
  const file = join(folder.path, 'lines');
  writeFileSync(file, 'a\nb\n');
  const lines: string[] = [];
  for await (const some of linesOf(file)) lines.push(...some);
  expect(lines).toEqual(['a', 'b']);
});
