// Lines of the record in words: what was done, and after a colon why, in English and in German.
import { readFileSync } from 'node:fs';
import { afterEach, expect, test } from 'vitest';
import { lineWords } from '../../../dashboard/acts/line-words.ts';
import { ENGLISH, speak } from '../../../shared/language/index.ts';

const TEXTS = JSON.parse(
  readFileSync(new URL('../../../dashboard/languages/de.json', import.meta.url), 'utf8'),
) as Readonly<Record<string, string>>;
const CLOCK = { zone: 'Etc/UTC', now: 0 } as Parameters<typeof lineWords>[1];
const speakGerman = () => speak({ tag: 'de', locale: 'de-DE', name: 'Deutsch', texts: TEXTS });
afterEach(() => speak(ENGLISH));

const ENDED = { kind: 'hold-ended', facts: { state: 'released', why: 'measured and within at 8,000 rpm' } } as const;

test('what ended a hold follows a colon', () => {
  expect(lineWords(ENDED, CLOCK)).toBe('Hold ended: measured and within at 8,000 rpm');
});

test('what was found is a sentence of its own behind it', () => {
  const facts = { state: 'checked', why: 'the sensor of S-1 is sound again', found: 'clamping' } as const;
  expect(lineWords({ kind: 'hold-stepped', facts }, CLOCK)).toMatch(
    /^Hold is checked: the sensor of S-1 is sound again\. Found: /,
  );
});

test('without a why there is no colon', () => {
  expect(lineWords({ kind: 'hold-ended', facts: { state: 'released' } }, CLOCK)).toBe('Hold ended');
});

test('in German too, the words of the rules told again', () => {
  speakGerman();
  expect(lineWords(ENDED, CLOCK)).toMatch(/^Sperre beendet: gemessen und innerhalb bei 8\.000\u00A0?\s?min/);
});
