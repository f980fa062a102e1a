// Every language says everything, and nothing that is said no more.
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Told } from '../../../shared/language/index.ts';
import { saidTexts } from './said-texts.ts';

const FOLDER = new URL('../../../dashboard/languages/', import.meta.url);
const FILES = readdirSync(FOLDER).filter((name) => name.endsWith('.json'));
const said = saidTexts();
const keys = new Set(said.map(({ key }) => key));

const slotsOf = (text: string): readonly string[] => [...new Set(text.match(/\{\d+\}/g))].sort();
const tagsOf = (text: string): readonly string[] => (text.match(/<\/?[a-z][^>]*>/g) ?? []).toSorted();
const formsOf = (told: Told): readonly string[] => (typeof told === 'object' ? Object.values(told) : [told]);

test('the texts are found', () => expect(keys.size).toBeGreaterThan(1000));

describe.each(FILES)('%s', (file) => {
  const texts = JSON.parse(readFileSync(new URL(file, FOLDER), 'utf8')) as Record<string, Told>;

  test('says everything', () => {
    const missing = said.filter(({ key }) => !(key in texts)).map(({ key, path }) => `${path}: ${key}`);
    expect([...new Set(missing)]).toEqual([]);
  });

  test('says nothing else', () => expect(Object.keys(texts).filter((key) => !keys.has(key))).toEqual([]));

  test('has the values and the tags of each text', () => {
    const wrong = Object.entries(texts).flatMap(([key, told]) =>
      formsOf(told).filter(
        (form) =>
          slotsOf(form).join() !== slotsOf(key).join() ||
          tagsOf(form).join() !== tagsOf(key).join() ||
          form.trim() === '',
      ),
    );
    expect(wrong).toEqual([]);
  });
});
