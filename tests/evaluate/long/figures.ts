// The figures of the long scenarios under their names, each share and rate with its 95 % interval, and the worst seeds in words.
import { rfc3339Of } from '../../../shared/time.ts';
import { median } from '../../bench/figure.ts';
import type { EvaluationFigure } from '../figures.ts';
import { briefly, calibrationOf, type Calibration } from './calibration.ts';
import { poisson, wilson, type Interval } from './intervals.ts';
import type { LongFaultVerdict, ScenarioVerdict } from './verdict.ts';

/** Of the 1×, or of the broadband part for a bearing. */
export const DOUBLE = 2;
export const HALF_AS_MUCH_AGAIN = 1.4;

export interface LongFigure extends EvaluationFigure {
  readonly interval: Interval | undefined;
  /** What it was counted over. */
  readonly of: number;
  /** What is out of reach in principle, in words. */
  readonly bound: string;
}

type Fault = LongFaultVerdict;
export const isFound = ({ delayLoads }: Fault): boolean => delayLoads !== undefined;
/** Unbalance, by whatever cause: what the 1× that was to be expected is multiplied by. */
const isUnbalance = ({ cause }: Fault): boolean => cause !== 'bearing' && cause !== 'sensor';
const doubles = (fault: Fault): boolean => (fault.factor ?? 0) >= DOUBLE;
const halfAgain = ({ factor = 0 }: Fault): boolean => factor >= HALF_AS_MUCH_AGAIN && factor < DOUBLE;

export function longFiguresOf(verdicts: readonly ScenarioVerdict[]): readonly LongFigure[] {
  const faults = verdicts.flatMap((verdict) => verdict.faults);
  const unbalance = faults.filter(isUnbalance);
  const told = faults.filter(isFound);
  const named = told.filter((fault) => fault.told?.named !== undefined);
  const figures = [
    falseHoldsFigure(verdicts),
    detected('decide.detected_2x', unbalance.filter(doubles)),
    detected('decide.detected_1_4x', unbalance.filter(halfAgain)),
    detected(
      'decide.detected_bearing',
      faults.filter(({ cause }) => cause === 'bearing'),
    ),
    detected(
      'decide.detected_sensor',
      faults.filter(({ cause }) => cause === 'sensor'),
    ),
    ...delayFigures(faults),
    {
      ...share('decide.cause_right', named.filter((fault) => fault.told?.isRight).length, named.length),
      bound: causeBound(told),
    },
    { ...share('decide.cant_tell', told.length - named.length, told.length), better: 'lower' as const },
    ...calibrationFigures(calibrationOf(verdicts)),
  ];
  // A share of nothing is none.
  return figures.filter(({ of }) => of > 0);
}

function falseHoldsFigure(verdicts: readonly ScenarioVerdict[]): LongFigure {
  const days = verdicts.reduce((sum, verdict) => sum + verdict.spindleDays, 0);
  const count = verdicts.reduce((sum, verdict) => sum + verdict.forNothing.length, 0);
  const { low, high } = poisson(count);
  const rate = (holds: number): number => (1000 * holds) / days;
  return {
    ...plain('decide.false_holds_per_1000_spindle_days', rate(count), 'lower'),
    interval: { low: rate(low), high: rate(high) },
    of: Math.round(days),
    bound: '',
  };
}

function plain(name: string, value: number, better: 'higher' | 'lower'): EvaluationFigure {
  return { name, value: Number(value.toPrecision(4)), unit: '1', better, baseline: null };
}

function share(name: string, hits: number, of: number): LongFigure {
  return { ...plain(name, of === 0 ? Number.NaN : hits / of, 'higher'), interval: wilson(hits, of), of, bound: '' };
}

/** Beside it what detectors find of the same faults that are told most: more cannot be asked. */
function detected(name: string, faults: readonly Fault[]): LongFigure {
  const shown = faults.filter((fault) => fault.isShownByLoads);
  const toldOf = (loads: (fault: Fault) => number | undefined): string => {
    const found = shown.filter((fault) => loads(fault) !== undefined).length;
    return `${found} of ${shown.length}: ${briefly(found / shown.length)}`;
  };
  const bound =
    shown.length === 0
      ? ''
      : `the informed detector finds ${toldOf((fault) => fault.informedLoads)}, not told the size ${toldOf((fault) => fault.untoldLoads)}`;
  return { ...share(name, faults.filter(isFound).length, faults.length), bound };
}

/** What who is told all but the cause makes of the same faults: what leaves the same trace nobody can tell apart. */
function causeBound(told: readonly Fault[]): string {
  const informed = told.flatMap((fault) => fault.informedCause ?? []);
  const named = informed.filter((it) => it.isNamed);
  const right = named.filter((it) => it.isRight).length;
  return informed.length === 0
    ? ''
    : `told all but the cause, of assembly, spindle, clamping and drawbar: right ${right} of ${named.length} named, can't tell ${informed.length - named.length} of ${informed.length}`;
}

/** A fault that was not told counts as infinitely late; one that the informed detector misses too is no measure of anything. */
function delayFigures(faults: readonly Fault[]): readonly LongFigure[] {
  const fair = faults.filter((fault) => fault.informedLoads !== undefined);
  if (fair.length === 0) return [];
  const ratioOf = (loadsOf: (fault: Fault) => number | undefined): number =>
    median(fair.map((fault) => (loadsOf(fault) ?? Infinity) / (fault.informedLoads ?? 1)));
  const bound = `told the machine, the kind and the course, but not the size and angle: ${briefly(ratioOf((fault) => fault.untoldLoads))}`;
  return [
    {
      ...plain(
        'decide.delay_ratio_to_informed',
        ratioOf((fault) => fault.delayLoads),
        'lower',
      ),
      interval: undefined,
      of: fair.length,
      bound,
    },
  ];
}

function calibrationFigures({ brier, shares }: Calibration): readonly LongFigure[] {
  if (shares === 0) return [];
  return [{ ...plain('decide.cause_brier', brier, 'lower'), interval: undefined, of: shares, bound: '' }];
}

const WORST_SEEDS = 10;
const LISTED_OF_SEED = 6;

/** The seeds in which most went wrong, with what happened. */
export function worstOf(verdicts: readonly ScenarioVerdict[]): readonly string[] {
  return verdicts
    .map((verdict) => ({ verdict, wrong: wrongIn(verdict) }))
    .filter(({ wrong }) => wrong.length > 0)
    .toSorted((a, b) => b.wrong.length - a.wrong.length)
    .slice(0, WORST_SEEDS)
    .flatMap(({ verdict: { seed, words }, wrong }) => [
      `seed ${seed}: ${words}`,
      ...wrong.slice(0, LISTED_OF_SEED).map((line) => `  ${line}`),
      ...(wrong.length > LISTED_OF_SEED ? [`  … and ${wrong.length - LISTED_OF_SEED} more`] : []),
    ]);
}

function wrongIn({ faults, forNothing, failures }: ScenarioVerdict): readonly string[] {
  return [
    ...failures,
    ...forNothing.map(
      ({ at, reason, subject, words }) => `held for nothing ${rfc3339Of(at)}: ${reason} on ${subject}: ${words}`,
    ),
    ...faults.filter((fault) => !isFound(fault) && isFair(fault)).map((fault) => `not told: ${faultWords(fault)}`),
    ...faults
      .filter(({ told }) => told?.named !== undefined && !told.isRight)
      .map((fault) => `named ${fault.told?.named}: ${faultWords(fault)}`),
  ];
}

const isFair = (fault: Fault): boolean => !fault.isShownByLoads || fault.informedLoads !== undefined;

function faultWords({ kind, subject, factor, affected, informedLoads, mixed }: Fault): string {
  const times = factor === undefined ? '' : ` ${factor.toFixed(2)} times`;
  const informed = informedLoads === undefined ? '' : `, informed after ${informedLoads}`;
  return `${kind} at ${subject}${times}, ${affected} loads affected${informed}${mixed ? ', beside another fault' : ''}`;
}
