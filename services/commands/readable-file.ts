// A file that a command is given, read; where it cannot be, which one and why in one sentence, without the system's own words.
import { closeSync, fstatSync, openSync, readFileSync } from 'node:fs';
import { unreadableWords } from '../../shared/unreadable-words.ts';
import { WrongUse } from './wrong-use.ts';

/** Wrong use: the command was given what is no file, or none that it may read. */
export class UnreadableFile extends WrongUse {}

/** @throws UnreadableFile */
export function textOf(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (fault) {
    throw unreadable(path, fault);
  }
}

/** A descriptor, for what is too long to be read at once. @throws UnreadableFile */
export function openedAt(path: string): number {
  let file: number;
  try {
    file = openSync(path, 'r');
  } catch (fault) {
    throw unreadable(path, fault);
  }
  if (!fstatSync(file).isDirectory()) return file;
  closeSync(file);
  // It can be opened, and only reading it would fail.
  throw unreadable(path, Object.assign(new Error(path), { code: 'EISDIR' }));
}

function unreadable(path: string, fault: unknown): UnreadableFile {
  return new UnreadableFile(`${path} cannot be read: ${unreadableWords(fault)}`);
}
