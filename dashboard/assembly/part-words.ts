// What a part of an assembly is, in words.
import { say } from '../../shared/language/index.ts';

const PART_WORDS: Readonly<Record<string, string>> = {
  holder: say`holder`,
  extension: say`extension`,
  cutter: say`cutter`,
  nut: say`nut`,
  screw: say`screw`,
  ring: say`ring`,
  other: say`other`,
};

/** What is not known here is told as it came. */
export const partWords = (role: string): string => PART_WORDS[role] ?? role;
