// The architecture, held by tests: each rule is kept by this checkout, and each check is seen to fail on a planted
// violation, because a check that can only succeed checks nothing.
import { describe, expect, test } from 'vitest';
import { planted, readCheckout } from './architecture/checkout.ts';
import { MAY_IMPORT, wrongDirections } from './architecture/directions.ts';
import { jobNotStated, missingPaths } from './architecture/documents.ts';
import { lint } from './architecture/lint-trial.ts';
import { impurities } from './architecture/purity.ts';
import { unreached } from './architecture/unreached.ts';
import { bannedWords } from './architecture/words.ts';

const checkout = readCheckout();

test('a walk that finds next to nothing is a fault, not a success', () => {
  expect(() => readCheckout(new URL('./architecture', import.meta.url).pathname)).toThrow('only');
});

describe('imports go one way, and through a part’s face', () => {
  test('in this checkout', () => expect(wrongDirections(checkout)).toEqual([]));

  test.each([
    [
      'the rules reach for the journal',
      'services/rules/a.ts',
      "import { x } from '../journal/index.ts';",
      'may not import',
    ],
    [
      'a type is an import too',
      'services/broker/a.ts',
      "import type { X } from '../intake/index.ts';",
      'may not import',
    ],
    ['over several lines', 'dashboard/a.ts', "import {\n  x,\n} from '../services/holds/index.ts';", 'may not import'],
    ['by export', 'shared/a.ts', "export * from '../services/rules/index.ts';", 'may not import'],
    ['while running', 'simulators/a.ts', "const x = await import('../services/rules/index.ts');", 'may not import'],
    ['past the face', 'services/holds/a.ts', "import { x } from '../journal/sqlite.ts';", 'through the index.ts'],
    [
      'past a face in shared',
      'services/holds/a.ts',
      "import { x } from '../../shared/balance/grade.ts';",
      'through the index.ts',
    ],
    [
      'a test of another part',
      'tests/services/holds/a.test.ts',
      "import '../../../services/rules/floor.ts';",
      'through the index.ts',
    ],
    ['a package in the rules', 'services/rules/a.ts', "import { z } from 'zod';", 'may not use'],
    ['Node in the browser', 'dashboard/a.ts', "import 'node:fs';", 'may not use'],
    ['a part nobody knows', 'services/odds/a.ts', "import '../rules/index.ts';", 'not in the table'],
  ])('%s', (_, path, text, complaint) => {
    expect(wrongDirections(planted({ [path]: text })).join()).toContain(complaint);
  });

  test('the contributors’ guide shows every part of the table', () => {
    const guide = checkout.files.get('DEVELOPERS.md') ?? '';
    const parts = Object.keys(MAY_IMPORT).filter((part) => !part.endsWith('.ts') || part === 'services/main.ts');
    expect(parts.filter((part) => !guide.includes(`\`${part}\``))).toEqual([]);
  });

  test('what is allowed is let through', () => {
    const allowed = planted({
      'services/holds/a.ts':
        "import { y } from './b/c.ts';\nimport { x } from '../journal/index.ts'; // '../rules/floor.ts'",
      'tests/services/holds/a.test.ts': "import { x } from '../../../services/holds/keeper.ts';",
      'shared/balance/a.ts': "import { x } from './b.ts';\nimport { y } from '../time.ts';",
      'services/main.ts': "import { x } from './rules/index.ts';",
      'tests/a.test.ts': "new URL('../build/services/commands/counterpoise.js', import.meta.url)",
    });
    expect(wrongDirections(allowed)).toEqual([]);
  });
});

describe('the pure parts know no clock, no chance and no Node', () => {
  test('in this checkout', () => expect(impurities(checkout)).toEqual([]));

  test.each([
    ['the clock', 'const at = Date.now();'],
    ['the clock as an object', 'const at = new Date();'],
    ['another clock', 'const at = performance.now();'],
    ['chance', 'const x = Math.random();'],
    ['waiting', 'export async function f() {}'],
    ['a promise', 'const p: Promise<void> = q;'],
    ['Node', "import { readFileSync } from 'node:fs';"],
    ['the console', "console.log('x');"],
  ])('%s', (_, text) => {
    expect(impurities(planted({ 'services/rules/a.ts': text }))).not.toEqual([]);
    expect(impurities(planted({ 'shared/statistics/a.ts': text }))).not.toEqual([]);
    expect(impurities(planted({ 'services/plant/a.ts': text }))).toEqual([]);
  });

  test('a comment or a text may speak of them', () => {
    const text = "// Not Date.now().\nexport const asText = 'Math.random()';\n/** async */\n";
    expect(impurities(planted({ 'shared/a.ts': text }))).toEqual([]);
  });
});

describe('every file is led to', () => {
  test('in this checkout', () => expect(unreached(checkout)).toEqual([]));

  test('a file that only its own test uses is found, and a worker’s file is not', () => {
    const found = unreached(
      planted({
        'services/main.ts': "new Worker(new URL('./plant/thread.js', import.meta.url));",
        'services/plant/thread.ts': '',
        'services/plant/left-over.ts': '',
        'tests/services/plant/left-over.test.ts': "import '../../../services/plant/left-over.ts';",
        'tests/services/plant/story.ts': '',
      }),
    );
    expect(found).toEqual([
      'services/plant/left-over.ts: nothing leads to it from the product',
      'tests/services/plant/story.ts: nothing leads to it from a test',
    ]);
  });
});

describe('the documents hold', () => {
  test('every path they name exists', () => expect(missingPaths(checkout)).toEqual([]));
  test('the README’s first paragraph states the job', () => expect(jobNotStated(checkout)).toEqual([]));

  test('a path that is gone is found, in a link and between backticks', () => {
    const found = missingPaths(
      planted({
        'README.md': 'See [how](docs/gone.md#why) and [there](docs/here.md), or https://x.test/docs/a.md.',
        'docs/here.md': 'Run `services/gone.ts --all` in `services/`; not `docs/*.md`, not `a/b`. [up](../README.md)',
        'services/main.ts': '',
      }),
    );
    expect(found).toEqual([
      'README.md: names docs/gone.md, which does not exist',
      'docs/here.md: names services/gone.ts, which does not exist',
    ]);
  });

  test('a first paragraph about something else is found', () => {
    const found = jobNotStated(planted({ 'README.md': '# X\n\nA broker.\n\nbench spindle vibration hold MQTT\n' }));
    expect(found).toHaveLength(5);
  });
});

describe('words', () => {
  test('none that is out of place', () => expect(bannedWords(checkout)).toEqual([]));

  test.each([
    '// rotor imbalance',
    'This tool is safe to run.',
    'It ensures safety.',
    'see ../shared/brief/3',
    'from public docs',
  ])('%s', (text) => {
    expect(bannedWords(planted({ 'shared/a.ts': `\n${text}` })).join()).toMatch(/^shared\/a\.ts:2: /);
  });
});

describe('the linter catches what it is there for', () => {
  const long = (lines: number): string => 'void 0;\n'.repeat(lines);

  test('each planted fault, by its rule', async () => {
    const found = await lint({
      'services/floating.ts': 'async function f(): Promise<void> {}\nf();\n',
      'services/misused.ts': 'export const f = (x: number[]): void => x.forEach(async () => {});\n',
      'services/switch.ts': "export function f(x: 'a' | 'b'): void {\n  switch (x) {\n    case 'a':\n  }\n}\n",
      'services/cycle-a.ts': "import { b } from './cycle-b.ts';\nexport const a = (): unknown => b;\n",
      'services/cycle-b.ts': "import { a } from './cycle-a.ts';\nexport const b = (): unknown => a;\n",
      'services/any.ts': 'export const x: any = 1;\n',
      'services/unused.ts': 'const x = 1;\nexport {};\n',
      'services/long-file.ts': long(301),
      'services/long-function.ts': `export function f(): void {\n${long(60)}}\n`,
      'services/rules/clock.ts': 'export const at = Date.now();\n',
      'shared/chance.ts': 'export const x = Math.random();\n',
      'tests/skipped.test.ts': "import { expect, test } from 'vitest';\ntest.skip('x', () => expect(1).toBe(1));\n",
      'services/innocent.ts': 'export const one = 1;\n',
    });
    const expected = {
      'services/floating.ts': 'no-floating-promises',
      'services/misused.ts': 'no-misused-promises',
      'services/switch.ts': 'switch-exhaustiveness-check',
      'services/cycle-a.ts': 'no-cycle',
      'services/any.ts': 'no-explicit-any',
      'services/unused.ts': 'no-unused-vars',
      'services/long-file.ts': 'max-lines',
      'services/long-function.ts': 'max-lines-per-function',
      'services/rules/clock.ts': 'no-restricted-globals',
      'shared/chance.ts': 'no-restricted-properties',
      'tests/skipped.test.ts': 'no-disabled-tests',
    };
    for (const [path, rule] of Object.entries(expected)) {
      expect(found.filter((line) => line.includes(path)).join('\n'), path).toContain(rule);
    }
    expect(found.filter((line) => line.includes('innocent'))).toEqual([]);
  });
});
