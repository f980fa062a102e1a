// A file that a command is given, read; where it cannot be, which one and why in one sentence, without the system's own words.
import { closeSync, fstatSync, openSync, readFileSync } from 'node:fs';

/** Wrong use: the command was given what is no file, or none that it may read. */
export class UnreadableFile extends Error {}

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
  throw unreadable(path, { code: 'EISDIR' });
}

function unreadable(path: string, fault: unknown): UnreadableFile {
  return new UnreadableFile(`${path} cannot be read: ${unreadableWords(fault)}`);
}

/** After "… cannot be read: ". */
export function unreadableWords(fault: unknown): string {
  switch ((fault as NodeJS.ErrnoException).code) {
    case 'ENOENT':
      return 'there is no such file';
    case 'ENOTDIR':
      return 'a part of its path is no directory';
    case 'EISDIR':
      return 'it is a directory; expected a file';
    case 'EACCES':
    case 'EPERM':
      return 'this user has no right to it';
    case undefined:
    default:
      return fault instanceof Error ? fault.message : String(fault);
  }
}
