// What would tell the causes apart: for each thing a shop can do, how much its outcome is expected to say, in bits.
import type { Cause, Experiment, ExperimentKind } from '../../../shared/causes.ts';
import type { LoadMark } from './relating-state.ts';
import type { Weighing } from './weighing.ts';

/** How likely the vibration, or the fault that is looked for, is found again where this is the cause. Common practice, no source. */
const FOUND_AGAIN: Readonly<Record<ExperimentKind, Partial<Record<Cause, number>>>> = {
  'clamp-again': { assembly: 1, spindle: 1, bearing: 1, sensor: 1, bench: 1, resonance: 1, drawbar: 0.5 },
  'run-elsewhere': { assembly: 1, bench: 1 },
  'other-assembly-here': { spindle: 1, bearing: 1, sensor: 1, resonance: 1, drawbar: 0.5, bench: 0.3 },
  'measure-on-bench': { assembly: 1 },
  'measure-on-other-bench': { assembly: 1, bench: 1 },
  'prove-bench': { bench: 1 },
  'check-sensor': { sensor: 1 },
  'check-drawbar': { drawbar: 1, clamping: 0.3 },
  'run-at-other-speed': { assembly: 1, spindle: 1, clamping: 1, bearing: 1, sensor: 1, bench: 1, drawbar: 1 },
};
/** Nothing is found without fail, and nothing never by chance. */
const ERROR = 0.05;
/** Of the nine, those worth naming. */
const NAMED_MAX = 3;
const BITS_LEAST = 0.02;
/** What is nearer together is told as the same. */
const BITS_TOLD = 0.01;

const binaryBits = (p: number): number => (p <= 0 || p >= 1 ? 0 : -p * Math.log2(p) - (1 - p) * Math.log2(1 - p));

/** The mutual information of a two-valued outcome and the cause (Shannon): entropy of the outcome less its mean given the cause. */
function bitsOf(kind: ExperimentKind, { shares, unknown }: Weighing): number {
  let found = ERROR * unknown;
  let given = unknown * binaryBits(ERROR);
  for (const { cause, probability } of shares) {
    const p = ERROR + (1 - 2 * ERROR) * (FOUND_AGAIN[kind][cause] ?? 0);
    found += probability * p;
    given += probability * binaryBits(p);
  }
  return Math.max(0, binaryBits(found) - given);
}

export function experimentsFor(weighing: Weighing, spindleId: string, last: LoadMark): readonly Experiment[] {
  // What is suspected, not what happens to run now.
  const suspected = (of: Cause): string | undefined => weighing.shares.find(({ cause }) => cause === of)?.of;
  const assemblyId = suspected('assembly') ?? last.assemblyId;
  const benchId = suspected('bench') ?? (assemblyId === last.assemblyId ? last.bench : undefined);
  // Of two that tell as much the one comes first in which less turns: what is suspected runs in another spindle last.
  const about: Readonly<Record<ExperimentKind, Omit<Experiment, 'kind' | 'bits'> | undefined>> = {
    'measure-on-bench': { assemblyId },
    'measure-on-other-bench': benchId === undefined ? undefined : { assemblyId, benchId },
    'prove-bench': benchId === undefined ? undefined : { benchId },
    'check-sensor': { spindleId },
    'check-drawbar': { spindleId },
    'clamp-again': { spindleId, assemblyId },
    'run-at-other-speed': { spindleId, assemblyId },
    'other-assembly-here': { spindleId },
    'run-elsewhere': { assemblyId },
  };
  return (Object.keys(about) as ExperimentKind[])
    .flatMap((kind) => {
      const of = about[kind];
      const bits = of === undefined ? 0 : bitsOf(kind, weighing);
      return bits < BITS_LEAST ? [] : [{ kind, ...of, bits }];
    })
    .toSorted((a, b) => Math.round(b.bits / BITS_TOLD) - Math.round(a.bits / BITS_TOLD))
    .slice(0, NAMED_MAX);
}
