// The outputs shown in docs/calculations.md and docs/recordings.md are what the commands print, to the last character.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { runCommand, wordsOf } from './services/commands/run-command.ts';

const DOCUMENT = ['calculations.md', 'recordings.md']
  .map((name) => readFileSync(new URL(`../docs/${name}`, import.meta.url), 'utf8'))
  .join('\n');
const PROGRAM = '$ counterpoise ';
const CUT = '…';

const EXAMPLES = [...DOCUMENT.matchAll(/^```console\n([\s\S]*?)^```$/gm)].map(([, block = '']) => {
  const [command = '', ...output] = block.trimEnd().split('\n');
  return { command, output };
});

test('every verb is shown', () => {
  const shown = EXAMPLES.map(({ command }) => wordsOf(command.slice(PROGRAM.length))[0]);
  expect(new Set(shown)).toEqual(
    new Set(['permissible', 'judge', 'index', 'planes', 'combine', 'trim', 'bearing-load', 'reference', 'analyse']),
  );
});

test.each(EXAMPLES)('$command', async ({ command, output }) => {
  expect(command.startsWith(PROGRAM)).toBe(true);
  const { printed, complaint } = await runCommand(wordsOf(command.slice(PROGRAM.length)));
  expect(complaint).toBe('');
  const lines = printed.trimEnd().split('\n');
  const cut = output.at(-1) === CUT;
  expect(cut ? lines.slice(0, output.length - 1) : lines).toEqual(cut ? output.slice(0, -1) : output);
});
