// What the others may use of this part.
export {
  ENGLISH,
  filled,
  keyOf,
  languageSpoken,
  numberLocale,
  numberMarks,
  retell,
  say,
  sayCount,
  speak,
  textOf,
  type Language,
  type Told,
} from './say.ts';
