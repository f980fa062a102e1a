// Texts in the language spoken, and English sentences told again.
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { ENGLISH, retell, say, sayCount, speak, type Language } from '../../../shared/language/index.ts';
import { amountWords, rpmWords } from '../../../shared/wording.ts';

const GERMAN: Language = {
  tag: 'de',
  locale: 'de-DE',
  name: 'Deutsch',
  texts: {
    'Nothing here': 'Hier ist nichts',
    '{0} of {1} loads': 'von {1} Einwechslungen {0}',
    '{0} load': '{0} Einwechslung',
    '{0} loads': '{0} Einwechslungen',
    '{0} rpm': '{0} min⁻¹',
    '{0} is on hold: {1}.': '{0} ist gesperrt: {1}.',
    'not measured since it was built': 'seit dem Zusammenbau nicht gemessen',
    'above {0} at {1}': 'über {0} bei {1}',
    '{0} {1}': '{0} {1}',
    '{0} at {1}': '{0} bei {1}',
    '{0} × {1} {2}/h ({3})': '{0} × {1} {2}/h ({3})',
    'it says “{0}”': 'dort steht „{0}“',
  },
};

afterEach(() => speak(ENGLISH));

describe('in English', () => {
  test('a text is what is written', () => expect(say`${3} of ${4} loads`).toBe('3 of 4 loads'));
  test('and a sentence of the service stays as it is', () =>
    expect(retell('A-1 is on hold: x.')).toBe('A-1 is on hold: x.'));
  test.each([
    [1, '1 load'],
    [0, '0 loads'],
    [1000, '1000 loads'],
  ])('%i', (count, words) => expect(sayCount(count, '{0} load', '{0} loads')).toBe(words));
});

describe('in another language', () => {
  beforeEach(() => speak(GERMAN));

  test('by its key, its values where they belong', () => {
    expect(say`Nothing here`).toBe('Hier ist nichts');
    expect(say`${3} of ${4} loads`).toBe('von 4 Einwechslungen 3');
  });

  test('what it does not know is said in English', () => expect(say`Nothing at ${'all'}`).toBe('Nothing at all'));

  test('numbers with its marks', () => {
    expect(rpmWords(18_000)).toBe('18.000 min⁻¹');
    expect(amountWords(3.1831)).toBe('3,18');
  });

  test.each([
    ['a whole sentence', 'Nothing here', 'Hier ist nichts'],
    ['its values', '3 of 4 loads', 'von 4 Einwechslungen 3'],
    ['numbers in it', 'above 2.4 at 18,000 rpm', 'über 2,4 bei 18.000 min⁻¹'],
    [
      'a text within a text',
      'A-1 is on hold: not measured since it was built.',
      'A-1 ist gesperrt: seit dem Zusammenbau nicht gemessen.',
    ],
    [
      'sentence after sentence, and what it does not know',
      'A-1 is on hold: 7. Then something else. 3 of 4 loads',
      'A-1 ist gesperrt: 7. Then something else. von 4 Einwechslungen 3',
    ],
    ['an id is no number', 'A-0312', 'A-0312'],
    ['an amount with its unit', 'above 12.5° at 2,400 mm/s', 'über 12,5° bei 2.400 mm/s'],
    [
      'clauses',
      'Nothing here; not measured since it was built',
      'Hier ist nichts; seit dem Zusammenbau nicht gemessen',
    ],
    ['what came, as it came', 'it says “Nothing here”', 'dort steht „Nothing here“'],
    ['few words of its own: with amounts and ids', '0.5 at S-1', '0,5 bei S-1'],
    [
      'whose it is, in brackets',
      '0.5 h × 80.25 INV/h (the rate of the office)',
      '0,5 h × 80,25 INV/h (the rate of the office)',
    ],
    ['and with no sentence', 'correct and measure at the bench', 'correct and measure at the bench'],
  ])('%s', (_, text, told) => expect(retell(text)).toBe(told));

  test('more than two plural forms', () => {
    const forms = { one: '{0} ładunek', few: '{0} ładunki', many: '{0} ładunków', other: '{0} ładunku' };
    speak({ ...GERMAN, tag: 'pl', locale: 'pl-PL', texts: { '{0} loads': forms } });
    expect([1, 2, 5].map((count) => sayCount(count, '{0} load', '{0} loads'))).toEqual([
      '1 ładunek',
      '2 ładunki',
      '5 ładunków',
    ]);
  });
});
