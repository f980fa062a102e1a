// Files of limits: every fault by its line and field, all of a file or nothing, and the examples of the documents as they stand.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { SpindleDeclared } from '../../../shared/acts.ts';
import { limitFaultWords } from '../../../shared/limit-fault-words.ts';
import { mergeLimits, readLimitFile } from '../../../services/limit-files/index.ts';

const NOW = Date.UTC(2026, 3, 1, 6);

const example = (name: string): string =>
  readFileSync(new URL(`../../../docs/examples/${name}`, import.meta.url), 'utf8');

const declared = (spindleId: string): SpindleDeclared => ({
  spindleId,
  machine: 'mill 1',
  cell: 'cell 1',
  maxSpeedRpm: 24_000,
  limits: [
    { quantity: 'overall', fromSpeedRpm: 1, toSpeedRpm: 24_000, limitMmS: 4.5, source: 'old sheet' },
    { quantity: 'synchronous', fromSpeedRpm: 1, toSpeedRpm: 24_000, limitMmS: 1.2, source: 'old sheet' },
  ],
});

const faultsOf = (text: string): readonly string[] =>
  mergeLimits(readLimitFile(text), declared, NOW).faults.map(limitFaultWords);

test('the examples can be read, as YAML and as CSV, and say the same of the same limits', () => {
  const [yaml, csv] = [readLimitFile(example('limits.yaml')), readLimitFile(example('limits.csv'))];
  expect([...yaml.faults, ...csv.faults]).toEqual([]);
  expect([yaml.limits.length, yaml.zones.length, yaml.bearings.length, csv.limits.length]).toEqual([2, 1, 2, 3]);
  expect(csv.limits[0]?.value).toEqual(yaml.limits[0]?.value);
  expect(csv.limits[0]?.value.source).toBe('spindle maker (invented), sheet 4');
  expect(yaml.zones[0]?.value.generic).toBe(true);
});

test('what the file says of a quantity replaces what stood there; the rest stays', () => {
  const { declarations, changes, faults } = mergeLimits(readLimitFile(example('limits.yaml')), declared, NOW);
  expect(faults).toEqual([]);
  const one = declarations.find(({ spindleId }) => spindleId === 'S-01');
  expect(one).toMatchObject({ machine: 'mill 1', maxSpeedRpm: 24_000 });
  expect(one?.limits.map((limit) => [limit.quantity, limit.limitMmS])).toEqual([
    ['synchronous', 1.2],
    ['overall', 2.2],
    ['overall', 2.8],
  ]);
  expect(one?.bearings?.map(({ name }) => name)).toEqual(['front', 'rear']);
  expect(changes.find(({ spindleId }) => spindleId === 'S-01')).toMatchObject({
    removes: ['overall limit 4.5 mm/s, 1 rpm to 24,000 rpm; old sheet'],
    same: 1,
  });
});

test('the same again changes nothing, and a digit further back is a change', () => {
  const file = readLimitFile(example('limits.yaml'));
  const after = new Map(mergeLimits(file, declared, NOW).declarations.map((one) => [one.spindleId, one]));
  const again = mergeLimits(file, (id) => after.get(id), NOW);
  expect(again.declarations).toEqual([]);
  const finer = readLimitFile(example('limits.yaml').replace('limitMmS: 2.8', 'limitMmS: 2.8004'));
  expect(mergeLimits(finer, (id) => after.get(id), NOW).declarations).toHaveLength(1);
});

const HEAD = 'spindleId,quantity,fromSpeedRpm,toSpeedRpm,limitMmS,source';

test.each<readonly [string, string, readonly (string | RegExp)[]]>([
  ['nothing', '', [/at least one row|lists of rows/]],
  ['a head alone', HEAD, ['expected at least one row; it says “none”']],
  ['an unknown column', `${HEAD},colour\nS-1,overall,1,2,3,x,red`, [/^line 1, colour: expected one of spindleId/]],
  [
    'a word for a number',
    `${HEAD}\nS-1,overall,1000,fast,3,x`,
    ['line 2, toSpeedRpm: expected a number from 1 to 500000 (rpm); it says “fast”'],
  ],
  [
    'a comma in a number',
    `${HEAD}\nS-1,overall,1000,"18,000",3,x`,
    ['line 2, toSpeedRpm: expected a number from 1 to 500000 (rpm); it says “18,000”'],
  ],
  [
    'an empty cell',
    `${HEAD}\nS-1,overall,1000,2000,,x`,
    [/^line 2, limitMmS: expected a number above 0, up to 10000 .mm.s.; it is missing/],
  ],
  ['too many cells', `${HEAD}\nS-1,overall,1,2,3,x,y`, [/^line 2: expected 6 fields as in the head/]],
  ['an open quote', `${HEAD}\nS-1,overall,1,2,3,"x`, [/expected CSV with closed quotes/]],
  [
    'faults in several lines',
    `${HEAD}\nS-1,loudness,1,2,3,x\n\n# a remark\nS 1,overall,1,2,-3,x`,
    [
      /^line 2, quantity: expected one of overall, synchronous; it says “loudness”/,
      /^line 5, spindleId: /,
      /^line 5, limitMmS: expected more than 0/,
    ],
  ],
  [
    'ranges that overlap',
    `${HEAD}\nS-1,overall,1000,12000,3,x\nS-1,overall,9000,18000,3,x`,
    [
      'line 3, fromSpeedRpm: expected one overall limit at each speed; line 2 is for 1,000 rpm to 12,000 rpm already; it says “9,000 rpm to 18,000 rpm”',
    ],
  ],
  [
    'a range that ends before it begins',
    `${HEAD}\nS-1,overall,9000,8000,3,x`,
    [/^line 2, toSpeedRpm: expected a speed of 9,000 rpm or more/],
  ],
  [
    'a date that is none',
    `${HEAD},sourceDate\nS-1,overall,1000,2000,3,x,12.3.2026`,
    ['line 2, sourceDate: expected a day such as 2026-03-12, or an RFC 3339 time; it says “12.3.2026”'],
  ],
  [
    'a day to come, of a limit',
    `${HEAD},sourceDate\nS-1,overall,1000,2000,3,x,2126-03-12`,
    ['line 2, sourceDate: expected a day that has been, 2026-04-01 at the latest; it says “2126-03-12”'],
  ],
  [
    'a day to come, of a table',
    'zones:\n  - spindleId: S-1\n    abMmS: 1\n    bcMmS: 2\n    cdMmS: 4\n    source: x\n    sourceDate: 2126-03-12\n    generic: false',
    [/^line 7, sourceDate: expected a day that has been/],
  ],
  ['YAML that is none', 'limits: [', [/^line 1: expected YAML that can be read \(Flow sequence in block collection/]],
  ['an unknown list', 'limit:\n  - {}', [/^line 1, limit: expected lists of rows under limits, zones, bearings/]],
  [
    'an unknown field',
    'limits:\n  - {spindleId: S-1, quantity: overall, fromSpeedRpm: 1, toSpeedRpm: 2, limitMmS: 1, source: x, color: red}',
    ['line 2, color: expected no field named color; it says “red”'],
  ],
  [
    'unknown fields on lines of their own',
    'limits:\n  - spindleId: S-1\n    quantity: overall\n    fromSpeedRpm: 1\n    toSpeedRpm: 2\n    color: red\n    limitMmS: -1\n    source: x\n    shade: 7',
    [
      'line 6, color: expected no field named color; it says “red”',
      /^line 7, limitMmS: expected more than 0/,
      'line 9, shade: expected no field named shade; it says “7”',
    ],
  ],
  [
    'an unknown field within a field',
    'bearings:\n  - spindleId: S-1\n    name: front\n    source: x\n    geometry:\n      elements: 19\n      elementDiameterMm: 7.9\n      contactAngle: 15\n      pitchDiameterMm: 57\n      ',
    [/^line 8, geometry.contactAngle: expected no field named contactAngle; it says “15”/],
  ],
  [
    'a rolling element that is too large, and neither of two ways',
    'bearings:\n  - spindleId: S-1\n    name: front\n    source: x\n    geometry: {elements: 19, elementDiameterMm: 79, pitchDiameterMm: 57}\n  - {spindleId: S-1, name: rear, source: x}',
    [/^line 5, geometry.elementDiameterMm: expected less than pitchDiameterMm/, /^line 6, geometry: expected either/],
  ],
  [
    'a limit of nothing',
    `${HEAD}\nS-1,overall,1,2,0,x`,
    ['line 2, limitMmS: expected more than 0 (mm/s); it says “0”'],
  ],
  [
    'faults of several kinds, in the order of their lines',
    'bearings:\n  - {spindleId: S-1, source: x, multiples: {cage: 0.4, outer: 3, inner: 5, rolling: 2}}\nlimits:\n  - {spindleId: S-1, quantity: loud, fromSpeedRpm: 1, toSpeedRpm: 2, limitMmS: 1, source: x}\nzones:\n  - {spindleId: S 1, abMmS: 1, bcMmS: 2, cdMmS: 4, source: x, generic: false}',
    [/^line 2, name/, /^line 4, quantity/, /^line 6, spindleId/],
  ],
  [
    'zones out of order',
    'zones:\n  - spindleId: S-1\n    abMmS: 3\n    bcMmS: 2\n    cdMmS: 4\n    source: x\n    generic: false',
    [/^line 4, bcMmS: expected abMmS less than bcMmS/],
  ],
  [
    'zones that do not say whether they are general',
    'zones:\n  - {spindleId: S-1, abMmS: 1, bcMmS: 2, cdMmS: 4, source: x}',
    [/^line 2, generic: expected true or false; it is missing/],
  ],
  [
    'a bearing twice',
    `bearings:\n  - &b {spindleId: S-1, name: front, source: x, multiples: {cage: 0.4, outer: 3, inner: 5, rolling: 2}}\n  - {spindleId: S-1, name: front, source: x, multiples: {cage: 0.4, outer: 3, inner: 5, rolling: 2}}`,
    [/^line 3, name: expected each bearing once/],
  ],
  [
    'a field within a field',
    'bearings:\n  - spindleId: S-1\n    name: front\n    source: x\n    multiples:\n      cage: 0.4\n      outer: three\n      inner: 5\n      rolling: 2',
    [/^line 7, multiples.outer: expected a number from 0.01 to 100 .1.; it says “three”/],
  ],
])('%s is named by line and field', (_, text, expected) => {
  const faults = faultsOf(text);
  expect(faults).toHaveLength(expected.length);
  expected.forEach((one, nth) =>
    expect(faults[nth]).toMatch(
      one instanceof RegExp ? one : new RegExp(`^${one.replaceAll(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`)}$`),
    ),
  );
});

test('a spindle that nobody declared is refused, and nothing of the file is taken', () => {
  const merged = mergeLimits(
    readLimitFile(example('limits.csv')),
    (id) => (id === 'S-01' ? declared(id) : undefined),
    NOW,
  );
  expect(merged.declarations).toEqual([]);
  expect(merged.faults.map(limitFaultWords)).toEqual([
    'line 5, spindleId: expected a spindle that is declared; declare it first, with its machine and cell; it says “S-02”',
  ]);
});

test('semicolons, tabs, a byte order mark and quotes over lines are read as spreadsheets write them', () => {
  const semicolons = `\uFEFF${HEAD.replaceAll(',', ';')}\r\nS-1;overall;1000;2000;2.5;"sheet ""4""\r\nof 2026"\r\n`;
  expect(readLimitFile(semicolons).limits[0]?.value).toMatchObject({ limitMmS: 2.5, source: 'sheet "4"\r\nof 2026' });
  expect(readLimitFile(`${HEAD.replaceAll(',', '\t')}\nS-1\toverall\t1000\t2000\t2.5\tx`).limits).toHaveLength(1);
});
