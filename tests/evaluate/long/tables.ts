// The long scenarios as a person reads them: each kind of fault, the confusion of causes, how much the probabilities are worth.
import { CAUSES } from '../../../shared/causes.ts';
import { median } from '../../bench/figure.ts';
import { briefly, calibrationOf } from './calibration.ts';
import { isFound, longFiguresOf, worstOf, type LongFigure } from './figures.ts';
import { wilson } from './intervals.ts';
import type { LongFaultVerdict, ScenarioVerdict } from './verdict.ts';

const NAME_WIDTH = 26;
const CELL_WIDTH = 11;

export function longTablesOf(verdicts: readonly ScenarioVerdict[]): string {
  const faults = verdicts.flatMap((verdict) => verdict.faults);
  const entries = verdicts.reduce((sum, verdict) => sum + verdict.entries, 0);
  return [
    `${verdicts.length} long scenarios, ${faults.length} faults, ${entries} entries`,
    '',
    'Told within 200 loads of what is affected',
    ...groups(faults, ({ kind }) => kind).map(([kind, own]) => kindLine(kind, own)),
    ...groups(faults, ({ mixed }) => (mixed ? 'beside another fault' : 'alone')).map(([name, own]) =>
      kindLine(name, own),
    ),
    '',
    'What it was, and what was named last',
    ...confusion(faults),
    '',
    'Held for nothing, by reason',
    ...groups(
      verdicts.flatMap((verdict) => verdict.forNothing),
      ({ reason }) => reason,
    ).map(([reason, own]) => `${reason.padEnd(NAME_WIDTH)} ${own.length}`),
    '',
    'Probabilities of causes: so much was given, so often it came',
    ...calibrationOf(verdicts).rows.map(
      ({ from, to, shares, meanProbability, came }) =>
        `${from.toFixed(1)} … ${to.toFixed(1)}  mean ${briefly(meanProbability)}  came ${briefly(came / shares)} of ${shares}`,
    ),
    '',
    'The worst seeds',
    ...worstOf(verdicts),
    '',
    ...longFiguresOf(verdicts).map(figureLine),
  ].join('\n');
}

export function figureLine({ name, value, interval, of, bound }: LongFigure): string {
  const between = interval === undefined ? '' : ` (95 %: ${briefly(interval.low)} … ${briefly(interval.high)})`;
  return `${name.padEnd(44)} ${briefly(value)}${between}, over ${of}${bound === '' ? '' : `; ${bound}`}`;
}

function groups<T>(list: readonly T[], nameOf: (one: T) => string): [string, T[]][] {
  const named = new Map<string, T[]>();
  for (const one of list) {
    const known = named.get(nameOf(one));
    if (known === undefined) named.set(nameOf(one), [one]);
    else known.push(one);
  }
  return [...named].toSorted(([a], [b]) => a.localeCompare(b));
}

function kindLine(name: string, faults: readonly LongFaultVerdict[]): string {
  const found = faults.filter(isFound);
  const { low, high } = wilson(found.length, faults.length);
  const shown = faults.filter((fault) => fault.isShownByLoads);
  const informed = shown.filter(({ informedLoads }) => informedLoads !== undefined);
  const delay = found.length === 0 ? '' : `, after ${median(found.map(({ delayLoads = 0 }) => delayLoads))} loads`;
  const bound =
    shown.length === 0
      ? ''
      : `; informed ${informed.length}${informed.length === 0 ? '' : `, after ${median(informed.map((it) => it.informedLoads ?? 0))}`}`;
  return `${name.padEnd(NAME_WIDTH)} ${found.length} of ${faults.length} (${briefly(low)} … ${briefly(high)})${delay}${bound}`;
}

function confusion(faults: readonly LongFaultVerdict[]): readonly string[] {
  const cell = (text: string | number): string => String(text).padStart(CELL_WIDTH);
  const columns = [...CAUSES.map((cause) => cell(cause)), cell("can't tell"), cell('not found')];
  return [
    `${' '.repeat(NAME_WIDTH)}${columns.join('')}`,
    ...groups(faults, ({ cause }) => cause).map(([cause, own]) => {
      const found = own.filter(isFound);
      const named = CAUSES.map((name) => cell(found.filter(({ told }) => told?.named === name).length));
      const open = found.filter(({ told }) => told?.named === undefined).length;
      return `${cause.padEnd(NAME_WIDTH)}${named.join('')}${cell(open)}${cell(own.length - found.length)}`;
    }),
  ];
}
