// A fault in a file of limits as one sentence; apart from the shapes, so that a browser needs no validator.
import { retell, say } from './language/index.ts';
import type { LimitFileFault } from './limits-import.ts';

/** "line 4, limitMmS: expected a number; it says “fast”". */
export function limitFaultWords({ line, field, want, got }: LimitFileFault): string {
  const place = [line > 0 ? say`line ${line}` : '', field].filter((part) => part !== '').join(', ');
  const expected = retell(want.startsWith('expected') ? want : `expected ${want}`);
  const missing = field === '' || want.includes('missing') ? '' : say`; it is missing`;
  return `${place === '' ? '' : `${place}: `}${expected}${got === '' ? missing : say`; it says “${got}”`}`;
}
