// The figures of an evaluation, each under its name, counted over the verdicts of all its trials.
import { HARMLESS_TRIALS } from '../../simulators/index.ts';
import { median } from '../bench/figure.ts';
import type { FaultVerdict, TrialVerdict } from './judge.ts';

export interface EvaluationFigure {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly better: 'higher' | 'lower';
  readonly baseline: number | null;
}

/** Tellable faults by the name of their row, in the order of their first appearance. */
export function tellable(verdicts: readonly TrialVerdict[]): ReadonlyMap<string, readonly FaultVerdict[]> {
  return byRow(verdicts, (fault) => fault.row.right.length > 0);
}

export function notYetTold(verdicts: readonly TrialVerdict[]): ReadonlyMap<string, readonly FaultVerdict[]> {
  return byRow(verdicts, (fault) => fault.row.right.length === 0);
}

function byRow(
  verdicts: readonly TrialVerdict[],
  wanted: (fault: FaultVerdict) => boolean,
): ReadonlyMap<string, readonly FaultVerdict[]> {
  const rows = new Map<string, FaultVerdict[]>();
  for (const fault of verdicts.flatMap((verdict) => verdict.faults).filter(wanted)) {
    const row = rows.get(fault.row.name);
    if (row === undefined) rows.set(fault.row.name, [fault]);
    else row.push(fault);
  }
  return rows;
}

export function falseHolds(verdicts: readonly TrialVerdict[]): number {
  return verdicts.flatMap((verdict) => verdict.forNothing).filter((told) => told.isHold).length;
}

export function spindleDays(verdicts: readonly TrialVerdict[]): number {
  return verdicts.reduce((sum, verdict) => sum + verdict.spindleDays, 0);
}

/** The highest rate that so few false holds leave possible, at 95 %: an exact Poisson limit for none, else normal. */
export function falseHoldsUpTo(verdicts: readonly TrialVerdict[]): number {
  const count = falseHolds(verdicts);
  const upTo = count === 0 ? -Math.log(0.05) : count + 1 + 1.645 * Math.sqrt(count + 1);
  return (1000 * upTo) / spindleDays(verdicts);
}

const isRight = ({ first, row }: FaultVerdict): boolean => first !== undefined && row.right.includes(first);
const isDetected = ({ delayS }: FaultVerdict): boolean => delayS !== undefined;

export function figuresOf(verdicts: readonly TrialVerdict[]): readonly EvaluationFigure[] {
  const rows = [...tellable(verdicts)];
  const all = rows.flatMap(([, faults]) => faults);
  const spoken = all.filter((fault) => fault.first !== undefined);
  return [
    figure('decide.spindle_days', spindleDays(verdicts), 'd', 'higher'),
    figure(
      'decide.false_holds_per_1000_spindle_days',
      (1000 * falseHolds(verdicts)) / spindleDays(verdicts),
      '1',
      'lower',
    ),
    ...HARMLESS_TRIALS.flatMap((kind) => {
      const own = verdicts.filter((verdict) => verdict.kind === kind);
      return own.length === 0 ? [] : [figure(`decide.false_holds.${kind}`, falseHolds(own), '1', 'lower')];
    }),
    figure('decide.reason_right', share(spoken, isRight), '1', 'higher'),
    ...rows.map(([name, faults]) => figure(`decide.detected_share.${name}`, share(faults, isDetected), '1', 'higher')),
    ...rows.flatMap(([name, faults]) => {
      const detected = faults.filter(isDetected);
      if (detected.length === 0) return [];
      return [
        figure(`decide.delay_s.${name}`, median(detected.map(({ delayS = Number.NaN }) => delayS)), 's', 'lower'),
        figure(
          `decide.delay_loads.${name}`,
          median(detected.map(({ delayLoads = Number.NaN }) => delayLoads)),
          '1',
          'lower',
        ),
      ];
    }),
  ];
}

function figure(name: string, value: number, unit: string, better: EvaluationFigure['better']): EvaluationFigure {
  return { name, value: Number(value.toPrecision(4)), unit, better, baseline: null };
}

function share(faults: readonly FaultVerdict[], counts: (fault: FaultVerdict) => boolean): number {
  return faults.filter(counts).length / faults.length;
}
