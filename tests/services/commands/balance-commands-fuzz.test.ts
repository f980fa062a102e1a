// Whatever is written behind a flag, a calculation answers or refuses in one line that names the flag or the value.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { runCommand, wordsOf, type Ran } from './run-command.ts';

const number = fc.oneof(
  fc.double({ noNaN: true }).map(String),
  fc.constantFrom('0', '1', '-1', '1e308', '1e-320', '1e999', '', 'NaN', '.', '1,5', '٣', '0x1F', 'G2.5', '1 2'),
  fc.string({ maxLength: 6 }),
);
const unit = fc.constantFrom(
  '',
  'kg',
  'g',
  'lb',
  'gmm',
  'g·mm',
  'ozin',
  'mm',
  'um',
  'µm',
  '%',
  'N',
  'kN',
  'deg',
  '°',
  'rpm',
  'mm/s',
  'parsec',
);
const good = fc.double({ min: 1e-3, max: 1e5, noNaN: true }).map((digits) => digits.toPrecision(5));
const odd = fc.tuple(number, unit).map(([digits, name]) => digits + name);
const value = fc.oneof({ weight: 9, arbitrary: good }, { weight: 1, arbitrary: odd });
/** Amplitudes that may fit ten and ten. */
const alike = fc.oneof(
  { weight: 9, arbitrary: fc.double({ min: 11, max: 28, noNaN: true }).map(String) },
  { weight: 1, arbitrary: odd },
);
const vector = fc.tuple(value, good).map(([amount, angle]) => `${amount}@${angle}`);

type Kinds = readonly (readonly [flag: string, kind: fc.Arbitrary<string>])[];
const all = (kind: fc.Arbitrary<string>, ...flags: readonly string[]): Kinds => flags.map((flag) => [flag, kind]);

const VERBS: readonly (readonly [line: string, flags: Kinds])[] = [
  ['permissible', all(value, '--mass', '--speed', '--grade', '--reclamping', '--a-at', '--b-at', '--centre-of-mass')],
  ['judge', all(value, '--mass', '--speed', '--grade', '--residual', '--smallest-achievable', '--reclamping')],
  [
    'judge --mass 2kg --speed 9000 --grade 2.5',
    [...all(vector, '--plane-a', '--plane-b'), ...all(value, '--scale-error', '--corrected')],
  ],
  [
    'planes --a-at 10 --b-at 90',
    [...all(vector, '--plane-a', '--plane-b'), ...all(value, '--centre-of-mass', '--to-a-at', '--to-b-at', '--error')],
  ],
  [
    'trim --phase lag',
    [...all(vector, '--initial', '--trial-1', '--after-1'), ...all(value, '--radius', '--step-amount', '--step-angle')],
  ],
  ['trim --initial 10 --opposite 10', [...all(alike, '--after-1'), ...all(vector, '--trial-1')]],
  [
    'bearing-load --rating-source a --share-source b --share 3',
    all(value, '--rating', '--speed', '--mass', '--residual'),
  ],
];

/** What was said, or a complaint in one line; anything else is a fault. */
function faultOf({ printed, complaint, exitCode }: Ran): string | undefined {
  if (exitCode !== 0) {
    const oneLine = complaint.startsWith('error: ') && complaint.split('\n').length < 4;
    return printed === '' && oneLine ? undefined : `complained ${complaint}, printed ${printed}`;
  }
  return /NaN|Infinity|undefined/.test(printed) || complaint !== '' ? `printed ${printed}${complaint}` : undefined;
}

test.each(VERBS)('%s', async (line, flags) => {
  let answered = 0;
  await fc.assert(
    fc.asyncProperty(fc.tuple(...flags.map(([, kind]) => kind)), fc.boolean(), async (values, json) => {
      const words = flags.map(([flag], index) => `${flag}=${values[index] ?? ''}`);
      const ran = await runCommand([...wordsOf(line), ...words, '--explain', ...(json ? ['--json'] : [])]);
      answered += ran.exitCode === 0 ? 1 : 0;
      expect(faultOf(ran)).toBeUndefined();
    }),
    { numRuns: 300 },
  );
  // A trial that refuses everything tries nothing.
  expect(answered).toBeGreaterThan(30);
});

test('index and combine, whose fields are written in one', async () => {
  await fc.assert(
    fc.asyncProperty(vector, vector, value, async (first, second, joint) => {
      expect(faultOf(await runCommand(['index', `--reading=0:${first}`, `--reading=180:${second}`]))).toBeUndefined();
      const part = `--part=name=a,mass=${joint},unbalance=${second},joint=${joint}`;
      expect(faultOf(await runCommand(['combine', part]))).toBeUndefined();
    }),
    { numRuns: 300 },
  );
});
