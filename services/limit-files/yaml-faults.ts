// What is no YAML at all: each fault with its line, in one sentence of expectation.
import type { Document, LineCounter } from 'yaml';
import { say } from '../../shared/language/index.ts';

/** What a fault of the writing is told with: no field, for none could be read. */
interface SyntaxFault {
  readonly line: number;
  readonly field: '';
  readonly want: string;
  readonly got: '';
}

const SAID_MAX = 120;

export function syntaxFaults({ errors }: Document, lines: LineCounter): readonly SyntaxFault[] {
  return errors.map(({ pos, message }) => ({
    line: lines.linePos(pos[0]).line,
    field: '',
    want: say`YAML that can be read (${message.slice(0, SAID_MAX)})`,
    got: '',
  }));
}
