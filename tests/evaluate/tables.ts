// The evaluation as a person reads it: what was planted against what was told, delays, and each hold for nothing by its trial.
import { median } from '../bench/figure.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { falseHolds, falseHoldsUpTo, notYetTold, spindleDays, tellable } from './figures.ts';
import type { FaultVerdict, TrialVerdict } from './judge.ts';

const NAME_WIDTH = 46;
const LISTED_MAX = 40;

export function tablesOf(verdicts: readonly TrialVerdict[]): string {
  return [
    'Planted, and the first word told of it',
    ...byName(tellable(verdicts)).map(([name, faults]) => tellableLine(name, faults)),
    '',
    'Not yet told: planted as well, and what the rules happen to say of it (counted nowhere)',
    ...byName(notYetTold(verdicts)).map(([name, faults]) => `${name.padEnd(NAME_WIDTH)} ${countsOf(faults)}`),
    '',
    'Told for nothing, by what the trial was about',
    ...[...new Set(verdicts.map((verdict) => verdict.kind))].map((kind) => forNothingLine(kind, verdicts)),
    '',
    ...rateLines(verdicts),
    ...listed(verdicts),
  ].join('\n');
}

function byName<T>(rows: ReadonlyMap<string, T>): [string, T][] {
  return [...rows].toSorted(([a], [b]) => a.localeCompare(b));
}

function tellableLine(name: string, faults: readonly FaultVerdict[]): string {
  const detected = faults.filter((fault) => fault.delayS !== undefined);
  const delays = detected.length === 0 ? '' : `; after ${delayWords(detected)}`;
  return `${name.padEnd(NAME_WIDTH)} told ${detected.length} of ${faults.length}${delays}\n${' '.repeat(NAME_WIDTH)} first word: ${countsOf(faults)}`;
}

function delayWords(detected: readonly FaultVerdict[]): string {
  const seconds = median(detected.map(({ delayS = Number.NaN }) => delayS));
  const loads = median(detected.map(({ delayLoads = Number.NaN }) => delayLoads));
  return `${seconds < 600 ? `${Math.round(seconds)} s` : `${Math.round(seconds / 60)} min`}, ${loads} loads (medians)`;
}

function countsOf(faults: readonly FaultVerdict[]): string {
  return counted(faults.map((fault) => fault.first ?? 'nothing'));
}

function counted(words: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1);
  return [...counts]
    .toSorted(([, a], [, b]) => b - a)
    .map(([word, times]) => `${word} ${times}`)
    .join(', ');
}

function forNothingLine(kind: TrialVerdict['kind'], verdicts: readonly TrialVerdict[]): string {
  const own = verdicts.filter((verdict) => verdict.kind === kind);
  const told = own.flatMap((verdict) => verdict.forNothing);
  const holds = told.filter((one) => one.isHold);
  const states = told.filter((one) => !one.isHold);
  const words = [
    holds.length === 0 ? 'no hold' : `holds: ${counted(holds.map((one) => one.word))}`,
    ...(states.length === 0 ? [] : [`states: ${counted(states.map((one) => one.word))}`]),
  ];
  return `${kind.padEnd(NAME_WIDTH)} ${own.length} trials, ${Math.round(spindleDays(own))} spindle-days: ${words.join('; ')}`;
}

function rateLines(verdicts: readonly TrialVerdict[]): string[] {
  const days = spindleDays(verdicts);
  const refused = verdicts.reduce((sum, verdict) => sum + verdict.refused, 0);
  const lines = verdicts.reduce((sum, verdict) => sum + verdict.lines, 0);
  const rate = (1000 * falseHolds(verdicts)) / days;
  return [
    `${falseHolds(verdicts)} holds for nothing in ${Math.round(days)} spindle-days: ${rate.toFixed(2)} per 1,000, ` +
      `at most ${falseHoldsUpTo(verdicts).toFixed(2)} with 95 % confidence; ${lines} messages, ${refused} refused`,
  ];
}

function listed(verdicts: readonly TrialVerdict[]): string[] {
  const lines = verdicts.flatMap((verdict) =>
    verdict.forNothing
      .filter((told) => told.isHold)
      .map(
        (told) =>
          `  ${verdict.kind} seed ${verdict.seed} at ${rfc3339Of(told.at)}: ${told.word}, ${told.about.join(' ')}; ${told.words}`,
      ),
  );
  return lines.length > LISTED_MAX
    ? [...lines.slice(0, LISTED_MAX), `  … and ${lines.length - LISTED_MAX} more`]
    : lines;
}
