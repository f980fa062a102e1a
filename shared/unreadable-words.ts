// Why a file cannot be read, after "… cannot be read: "; the system's own words name calls that nobody made.
import { say } from './language/index.ts';

export function unreadableWords(fault: unknown): string {
  const code = fault instanceof Error && 'code' in fault ? fault.code : undefined;
  switch (code) {
    case 'ENOENT':
      return say`there is no such file`;
    case 'ENOTDIR':
      return say`a part of its path is no directory`;
    case 'EISDIR':
      return say`it is a directory; expected a file`;
    case 'EACCES':
    case 'EPERM':
      return say`this user has no right to it`;
    default:
      return fault instanceof Error ? fault.message : String(fault);
  }
}
