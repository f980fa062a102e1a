// The texts of a template, and a template told in another language.
import { describe, expect, test } from 'vitest';
import { runsOf, toldTemplate } from '../../../dashboard/language/template-runs.ts';

const stringsOf = (strings: TemplateStringsArray, ..._values: readonly unknown[]): TemplateStringsArray => strings;
const [a, b] = ['a', 'b'];

describe('what is read as a whole', () => {
  test.each([
    ['a text', stringsOf`<p>Nothing here.</p>`, ['Nothing here.']],
    ['its values', stringsOf`<p>${a} of ${b} loads</p>`, ['{0} of {1} loads']],
    [
      'blanks as one',
      stringsOf`<p>
      One
      two
    </p>`,
      ['One two'],
    ],
    ['a text with a tag within', stringsOf`<li><b>Late:</b> ${a} after.</li>`, ['<b>Late:</b> {0} after.']],
    ['without the tag around it', stringsOf`<p><b>Late ${a}</b></p>`, ['Late {0}']],
    ['each block by itself', stringsOf`<dt>Speed</dt><dd>${a} rpm</dd>`, ['Speed', '{0} rpm']],
    [
      'a link’s address as a value',
      stringsOf`<p>See <a href=${a}>${b}</a> first.</p>`,
      ['See <a href={0}>{1}</a> first.'],
    ],
    [
      'attributes that people read',
      stringsOf`<nav aria-label="Pages of ${a}" class="wide one"></nav>`,
      ['Pages of {0}'],
    ],
    ['nothing of values alone', stringsOf`<p>${a}: ${b} </p>`, []],
    ['nothing of listeners and properties', stringsOf`<button @click=${a} .value=${b} ?disabled=${a}></button>`, []],
    ['nothing of a remark', stringsOf`<!-- what is this --><p>Yes</p>`, ['Yes']],
  ])('%s', (_, strings, keys) => expect(runsOf(strings)).toEqual(keys));
});

describe('told', () => {
  const tell = (texts: Record<string, string>) => (key: string) => texts[key] ?? key;

  test('without a word of it: as it was', () => {
    const strings = stringsOf`<p class="x ${a}">
      One <b>two</b> ${b}</p>`;
    expect(toldTemplate(strings, tell({}))).toEqual({ strings: [...strings], order: [0, 1] });
  });

  test('its values may stand elsewhere', () => {
    const told = toldTemplate(stringsOf`<p id=${'x'}>${a} of ${b}</p>`, tell({ '{0} of {1}': 'von {1}: {0}' }));
    expect(told).toEqual({ strings: ['<p id=', '>von ', ': ', '</p>'], order: [0, 2, 1] });
  });

  test('the tags within move with their words', () => {
    const key = 'See <a href={0}>{1}</a> first.';
    const told = toldTemplate(
      stringsOf`<p>See <a href=${a}>${b}</a> first.</p>`,
      tell({ [key]: 'Erst <a href={0}>{1}</a> ansehen.' }),
    );
    expect(told).toEqual({ strings: ['<p>Erst <a href=', '>', '</a> ansehen.</p>'], order: [0, 1] });
  });
});
