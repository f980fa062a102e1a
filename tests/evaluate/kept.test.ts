// Verdicts that are kept between two runs: what is read is what was written, and nothing that is of other rules or cut off.
import { appendFileSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { RULES_VERSION } from '../../services/rules/index.ts';
import { keptIn, NotKept } from './kept.ts';
import { longFiguresOf, type ScenarioVerdict } from './long/index.ts';

let folder = '';
let file = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'counterpoise-kept-'));
  file = join(folder, 'verdicts');
});
afterEach(() => rmSync(folder, { recursive: true }));

const verdict = (seed: number): ScenarioVerdict => ({
  seed,
  words: `plant ${seed}`,
  spindleDays: 100,
  entries: 7,
  failures: [],
  faults: [
    {
      kind: 'insert-lost',
      cause: 'assembly',
      mixed: false,
      subject: 'A-1',
      affected: 9,
      factor: 2.5,
      delayLoads: undefined,
      informedLoads: 2,
      untoldLoads: undefined,
      isShownByLoads: true,
      informedCause: undefined,
      told: undefined,
    },
  ],
  forNothing: [],
});

test('a run that was stopped goes on with what it had; its figures are those of the verdicts themselves', () => {
  keptIn(file).take(verdict(1));
  keptIn(file).take(verdict(2));
  const kept = keptIn(file);
  expect(kept.of(3)).toBeUndefined();
  const read = [kept.of(1), kept.of(2)].flatMap((one) => one ?? []);
  expect(longFiguresOf(read)).toEqual(longFiguresOf([verdict(1), verdict(2)]));
});

test('a line that was cut off is dropped, and the next is written after the last whole one', () => {
  keptIn(file).take(verdict(1));
  const whole = readFileSync(file, 'utf8');
  appendFileSync(file, whole.slice(0, 40));
  const kept = keptIn(file);
  expect(readFileSync(file, 'utf8')).toBe(whole);
  kept.take(verdict(2));
  expect(keptIn(file).of(2)?.words).toBe('plant 2');
});

test('verdicts of other rules are refused, and a file that holds something else', () => {
  keptIn(file).take(verdict(1));
  writeFileSync(file, readFileSync(file, 'utf8').replace(RULES_VERSION, 'rules-0'));
  expect(() => keptIn(file)).toThrow(NotKept);
  expect(() => keptIn(file)).toThrow(`holds verdicts of rules-0, these rules are ${RULES_VERSION}: name another file`);
  writeFileSync(file, 'spindle,mm/s\n');
  expect(() => keptIn(file)).toThrow('is no file of kept verdicts: a line of it begins “spindle,mm/s”');
});

test.each(['{"a":1}', '{"rules":"rules-0"}', '{"rules":"rules-0","verdict":{}}', '7', 'null'])(
  '%s is no kept verdict, and stays as it is',
  (line) => {
    writeFileSync(file, `${line}\ncut`);
    expect(() => keptIn(file)).toThrow(`${file} is no file of kept verdicts: a line of it begins “${line}”`);
    expect(readFileSync(file, 'utf8')).toBe(`${line}\ncut`);
  },
);

test('a file that cannot be written is refused before anything is played', () => {
  const nowhere = join(folder, 'none', 'verdicts');
  expect(() => keptIn(nowhere)).toThrow(NotKept);
  expect(() => keptIn(nowhere)).toThrow(
    `verdicts cannot be kept in ${nowhere}: there is no folder ${join(folder, 'none')}`,
  );
  expect(() => keptIn(folder)).toThrow(`verdicts cannot be kept in ${folder}: it is a directory; expected a file`);
  keptIn(file);
  expect(existsSync(file)).toBe(true);
});
