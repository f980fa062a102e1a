// The word on a tag in another language: drawn like HOLD is, and typed only where its letters were never drawn.
import { readFileSync } from 'node:fs';
import { afterEach, expect, test } from 'vitest';
import { holdWord } from '../../../dashboard/holds/hold-word.ts';
import { ENGLISH, speak } from '../../../shared/language/index.ts';

const FILE = new URL('../../../dashboard/languages/de.json', import.meta.url);

afterEach(() => speak(ENGLISH));

const wordOf = (word: string): readonly unknown[] => {
  speak({ tag: 'xx', locale: 'en-GB', name: 'xx', texts: { HOLD: word } });
  return holdWord().values;
};

test('in English it has no values at all', () => expect(holdWord().values).toEqual([]));

test('the German one is drawn, each letter of it', () => {
  const { HOLD } = JSON.parse(readFileSync(FILE, 'utf8')) as { HOLD: string };
  const [, said, letters] = wordOf(HOLD);
  expect(said).toBe(HOLD);
  expect(letters).toHaveLength(HOLD.length);
});

test('one with another letter is typed as wide as the paper', () => {
  const [width, said, letters] = wordOf('ZAPRT');
  expect([width, said]).toEqual([89, 'ZAPRT']);
  expect(letters).not.toBeInstanceOf(Array);
});
