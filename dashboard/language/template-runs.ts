// The texts of an HTML template, and the same template with other texts. Pure: reads and writes lists of strings.

/** Stands for the value at an index while a template is one string; no template has such characters. */
const MARK = '\uE000';
const MARKED = /\uE000(\d+)\uE000/g;

/** Tags that stand within a sentence; any other ends it. */
const WITHIN = new Set(['a', 'abbr', 'b', 'code', 'em', 'i', 'kbd', 'strong', 'sub', 'sup', 'time']);
/** Attributes that are read by people. */
const READ = /(\s(?:alt|aria-description|aria-label|aria-roledescription|label|placeholder|title)=)"([^"]*)"/g;
const TAG = /<!--[\s\S]*?-->|<\/?([a-zA-Z][\w-]*)(?:"[^"]*"|'[^']*'|[^'">])*>/g;
const LETTER = /\p{L}/u;

export interface ToldTemplate {
  readonly strings: readonly string[];
  /** Which of the values stands at each place. */
  readonly order: readonly number[];
}

/** The template with each of its runs put through `tell`, which gives the key back where it knows no other. */
export function toldTemplate(strings: readonly string[], tell: (key: string) => string): ToldTemplate {
  const whole = strings.reduce((before, next, index) => `${before}${MARK}${index - 1}${MARK}${next}`);
  const told = tellTexts(whole, tell);
  const order: number[] = [];
  const parts = told.split(MARKED).filter((part, index) => {
    if (index % 2 === 0) return true;
    order.push(Number(part));
    return false;
  });
  return { strings: parts, order };
}

/** The texts that are read as a whole, the tags within them left in; `{0}` stands for the first value. Blanks as one space. */
export function runsOf(strings: readonly string[]): readonly string[] {
  const keys: string[] = [];
  toldTemplate(strings, (key) => {
    keys.push(key);
    return key;
  });
  return keys;
}

function tellTexts(whole: string, tell: (key: string) => string): string {
  let told = '';
  let run = '';
  let from = 0;
  const end = (): void => {
    told += tellRun(run, tell);
    run = '';
  };
  for (const match of whole.matchAll(TAG)) {
    const [tag, name = ''] = match;
    run += whole.slice(from, match.index);
    from = match.index + tag.length;
    const read = tag.replaceAll(READ, (_all, before: string, text: string) => `${before}"${tellRun(text, tell)}"`);
    if (WITHIN.has(name.toLowerCase())) {
      run += read;
      continue;
    }
    end();
    told += read;
  }
  run += whole.slice(from);
  end();
  return told;
}

function tellRun(run: string, tell: (key: string) => string): string {
  if (!LETTER.test(run.replaceAll(TAG, '').replaceAll(MARKED, ''))) return run;
  const { before, text, after } = withoutWhatIsAround(run);
  return before + tellText(text, tell) + after;
}

/** A tag and its end around the whole of a text are no part of it, nor are blanks. */
function withoutWhatIsAround(run: string): { readonly before: string; readonly text: string; readonly after: string } {
  const text = run.trim();
  const at = run.indexOf(text);
  const before = run.slice(0, at);
  const after = run.slice(at + text.length);
  const tags = [...text.matchAll(TAG)];
  const [first] = tags;
  const last = tags.at(-1);
  if (first?.index !== 0 || last === undefined || last.index + last[0].length !== text.length) {
    return { before, text, after };
  }
  if (endOf(tags) !== tags.length - 1) return { before, text, after };
  const inner = withoutWhatIsAround(text.slice(first[0].length, last.index));
  return { before: before + first[0] + inner.before, text: inner.text, after: inner.after + last[0] + after };
}

/** At which of the tags the first one ends. */
function endOf(tags: readonly RegExpMatchArray[]): number {
  let depth = 0;
  return tags.findIndex(([tag]) => {
    depth += tag.startsWith('</') ? -1 : 1;
    return depth === 0;
  });
}

function tellText(text: string, tell: (key: string) => string): string {
  const values: string[] = [];
  const key = text
    .replaceAll(MARKED, (_all, value: string) => {
      values.push(value);
      return `{${values.length - 1}}`;
    })
    .replaceAll(/\s+/g, ' ');
  const told = tell(key);
  if (told === key) return text;
  return told.replaceAll(/\{(\d+)\}/g, (_all, slot: string) => `${MARK}${values[Number(slot)] ?? ''}${MARK}`);
}
