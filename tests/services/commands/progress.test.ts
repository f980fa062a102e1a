// Progress is one line on a terminal and a few in a log.
import { expect, test } from 'vitest';
import { Progress } from '../../../services/commands/progress.ts';

function screen(isTTY: boolean) {
  const written: string[] = [];
  return { isTTY, written, write: (text: string) => written.push(text) };
}

test('in a log: each quarter on a line of its own', () => {
  const log = screen(false);
  const progress = new Progress('inventing', log);
  for (let share = 0; share <= 1; share += 0.01) progress.at(share);
  progress.done();
  expect(log.written.slice(0, -1)).toEqual([
    'inventing …\n',
    'inventing 25 %\n',
    'inventing 50 %\n',
    'inventing 75 %\n',
  ]);
  expect(log.written.at(-1)).toMatch(/^inventing done in \d+\.\d s\n$/);
});

test('on a terminal: one line that is written over, and nothing twice', () => {
  const terminal = screen(true);
  const progress = new Progress('inventing', terminal);
  progress.at(0.501);
  progress.at(0.502);
  progress.broken();
  expect(terminal.written).toEqual(['\r\u001B[Kinventing …', '\r\u001B[Kinventing 50 %', '\n']);
});
