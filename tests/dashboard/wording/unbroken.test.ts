import type { TemplateResult } from 'lit';
import { expect, test } from 'vitest';
import { unbroken } from '../../../dashboard/wording/unbroken.ts';

/** What stays whole, and the sentence as it is read. */
function read(sentence: string): { whole: string[]; text: string } {
  const pieces = unbroken(sentence).values[0] as (string | TemplateResult)[];
  const words = pieces.map((piece) => (typeof piece === 'string' ? piece : String(piece.values[0])));
  return {
    whole: pieces.flatMap((piece, i) => (typeof piece === 'string' ? [] : [words[i] ?? ''])),
    text: words.join(''),
  };
}

test.each([
  ['A-0124 was in S-03, 12,000 against 7,775 rpm.', ['A-0124', 'S-03,', '7,775 rpm']],
  ['3.9 mm/s over 2.8 mm/s; 27.4 against 14.4 g·mm.', ['3.9 mm/s', '2.8 mm/s', '14.4 g·mm']],
  ['turned down from 100 % to 75 % on', ['100 %', '75 %']],
  ['Nothing in particular.', []],
  ['', []],
])('%s', (sentence, whole) => {
  expect(read(sentence)).toEqual({ whole, text: sentence });
});
