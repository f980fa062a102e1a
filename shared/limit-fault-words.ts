// A fault in a file of limits as one sentence; apart from the shapes, so that a browser needs no validator.
import type { LimitFileFault } from './limits-import.ts';

/** "line 4, limitMmS: expected a number; it says “fast”". */
export function limitFaultWords({ line, field, want, got }: LimitFileFault): string {
  const place = [line > 0 ? `line ${line}` : '', field].filter((part) => part !== '').join(', ');
  const expected = want.startsWith('expected') ? want : `expected ${want}`;
  const missing = field === '' || want.includes('missing') ? '' : '; it is missing';
  return `${place === '' ? '' : `${place}: `}${expected}${got === '' ? missing : `; it says “${got}”`}`;
}
