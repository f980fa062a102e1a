// What counterpoise trim is asked: runs in the machine, from flags or from a file, in the units that people write.
import * as z from 'zod';
import type {
  PhaseSense,
  SettingSteps,
  TrialRun,
  TrialRuns,
  UnbalanceVector,
  VibrationVector,
} from '../../shared/balance/index.ts';
import { PLAIN } from '../../shared/fault-words.ts';
import { readData } from './balance-flags.ts';
import type { FlagReader } from './calculation-options.ts';
import { faultsOf } from './file-faults.ts';
import { readValue, readVector, ValueFault } from './value-units.ts';

const Words = z.union([z.string(), z.number()]).transform(String);

/** A file of runs, JSON or YAML; every value as a person writes it, with its unit. */
const TrimFile = z.strictObject({
  phase: z.enum(['lead', 'lag']).optional(),
  radius: Words.optional(),
  initial: z.array(Words).min(1),
  trials: z
    .array(
      z.strictObject({
        plane: z.union([z.literal(1), z.literal(2)]).default(1),
        mass: Words,
        readings: z.array(Words).min(1),
        leftOn: z.boolean().default(false),
      }),
    )
    .min(1),
  opposite: Words.optional(),
  steps: z.strictObject({ amount: Words, angle: Words.optional() }).optional(),
  places: z.array(z.number()).optional(),
});
export type TrimWords = z.output<typeof TrimFile>;

export interface TrimAsked {
  readonly runs: TrialRuns;
  /** Of the vibration, as it was written; empty where none was. */
  readonly unit: string;
  /** With it masses are in g at this radius, mm. */
  readonly radiusMm: number | undefined;
  readonly steps: SettingSteps | null;
  /** Of what goes to a place; null where any amount can be set. */
  readonly amountStepGmm: number | null;
  readonly placesDeg: readonly number[] | undefined;
}

export interface AmplitudesAsked {
  readonly initial: number;
  readonly withTrial: number;
  readonly withTrialOpposite: number;
  readonly trial: UnbalanceVector;
  readonly unit: string;
  readonly radiusMm: number | undefined;
}

/** The words of a file, or of the flags. Throws a ValueFault for both at once, or what is not readable. */
export function trimWords(read: FlagReader, path: string | undefined): TrimWords {
  if (path !== undefined) {
    if (read.texts('initial').length > 0 || read.has('trial-1')) {
      throw new ValueFault('--initial: expected the runs in the file or in flags, came both');
    }
    const parsed = TrimFile.safeParse(readData(path, 'the file of runs'), PLAIN);
    if (parsed.success) return parsed.data;
    throw new ValueFault(`the file of runs: ${faultsOf(parsed.error).join('; ')}`);
  }
  const leftOn = read.has('left-on');
  const trials = ([1, 2] as const).flatMap((plane) => {
    const mass = read.text(`trial-${plane}`);
    return mass === undefined ? [] : [{ plane, mass, readings: [...read.texts(`after-${plane}`)], leftOn }];
  });
  if (trials.length === 0)
    throw new ValueFault('--trial-1: expected a trial mass such as 100gmm@0, or a file of runs; it is missing');
  const [phase, radius, opposite, amount, angle, places] = (
    ['phase', 'radius', 'opposite', 'step-amount', 'step-angle', 'places'] as const
  ).map((name) => read.text(name));
  return {
    initial: [...read.texts('initial')],
    trials,
    ...(phase === 'lead' || phase === 'lag' ? { phase } : {}),
    ...(radius === undefined ? {} : { radius }),
    ...(opposite === undefined ? {} : { opposite }),
    ...stepWords(amount, angle),
    ...(places === undefined
      ? {}
      : { places: places.split(',').map((text) => readValue('angle', text, '--places', read.system, read.tell)) }),
  };
}

function stepWords(amount: string | undefined, angle: string | undefined): Pick<TrimWords, 'steps'> {
  if (amount === undefined && angle === undefined) return {};
  if (amount === undefined) throw new ValueFault('--step-amount: expected with --step-angle; it is missing');
  return { steps: { amount, ...(angle === undefined ? {} : { angle }) } };
}

/** Runs with amplitude and phase. Throws a ValueFault that names what is missing or does not fit. */
export function trimAsked(words: TrimWords, read: FlagReader): TrimAsked {
  const unit = new VibrationUnit();
  const radiusMm = radiusOf(words, read);
  const reading = (text: string): VibrationVector => {
    const [amount = '', angle, ...more] = text.split('@');
    if (angle === undefined || more.length > 0) {
      throw new ValueFault(`reading: expected an amplitude at a phase, such as 4.8@17, came ${JSON.stringify(text)}`);
    }
    return { amplitude: unit.read(amount), phaseDeg: readValue('angle', angle, 'reading', read.system, read.tell) };
  };
  const initial = words.initial.map(reading);
  if (initial.length === 0)
    throw new ValueFault('--initial: expected one reading per sensor, such as 4.8@17; it is missing');
  const trials = words.trials.map(({ plane, mass, readings, leftOn }): TrialRun => ({
    plane: plane === 1 ? 0 : 1,
    mass: massOf(mass, radiusMm, read),
    readings: readings.map(reading),
    leftOn,
  }));
  return {
    runs: { phaseSense: phaseOf(words), initial, trials },
    unit: unit.name,
    radiusMm,
    ...stepsOf(words, radiusMm, read),
    placesDeg: words.places,
  };
}

function stepsOf(
  { steps, places }: TrimWords,
  radiusMm: number | undefined,
  read: FlagReader,
): Pick<TrimAsked, 'steps' | 'amountStepGmm'> {
  if (steps === undefined) return { steps: null, amountStepGmm: null };
  const amountGmm = amountOf(steps.amount, 'step of the amount', radiusMm, read);
  if (steps.angle === undefined) {
    if (places !== undefined) return { steps: null, amountStepGmm: amountGmm };
    throw new ValueFault('--step-angle: expected with --step-amount where no --places are told; it is missing');
  }
  const angleDeg = readValue('angle', steps.angle, 'step of the angle', read.system, read.tell);
  return { steps: { amountGmm, angleDeg }, amountStepGmm: amountGmm };
}

/** Three amplitudes without phase: as found, with the trial mass, and with it opposite. */
export function amplitudesAsked(words: TrimWords, opposite: string, read: FlagReader): AmplitudesAsked {
  const unit = new VibrationUnit();
  const radiusMm = radiusOf(words, read);
  const [trial, ...others] = words.trials;
  const [initial, ...moreSensors] = words.initial;
  const [after, ...moreAfter] = trial?.readings ?? [];
  const surplus = others.length + moreSensors.length + moreAfter.length;
  if (trial === undefined || initial === undefined || after === undefined || surplus > 0) {
    throw new ValueFault('--opposite: expected one amplitude each of --initial and --after-1 with it, of one sensor');
  }
  return {
    initial: unit.read(initial),
    withTrial: unit.read(after),
    withTrialOpposite: unit.read(opposite),
    trial: massOf(trial.mass, radiusMm, read),
    unit: unit.name,
    radiusMm,
  };
}

function phaseOf({ phase }: TrimWords): PhaseSense {
  if (phase !== undefined) return phase;
  throw new ValueFault(
    '--phase: expected lead or lag: does the phase grow or shrink when the mass is moved on in the sense of the angles?',
  );
}

function radiusOf({ radius }: TrimWords, read: FlagReader): number | undefined {
  return radius === undefined ? undefined : readValue('length', radius, 'radius', read.system);
}

/** Amounts of unbalance, or of mass where a radius says what they amount to. */
function amountOf(text: string, what: string, radiusMm: number | undefined, read: FlagReader): number {
  if (radiusMm === undefined) return readValue('unbalance', text, what, read.system);
  return readValue('small mass', text, what, read.system) * radiusMm;
}

function massOf(text: string, radiusMm: number | undefined, read: FlagReader): UnbalanceVector {
  if (radiusMm === undefined) return readVector(text, 'trial mass', read.system, read.tell);
  const [amount = '', angle, ...more] = text.split('@');
  if (angle === undefined || more.length > 0) {
    throw new ValueFault(`trial mass: expected a mass at an angle, such as 1.6g@0, came ${JSON.stringify(text)}`);
  }
  return {
    gmm: amountOf(amount, 'trial mass', radiusMm, read),
    angleDeg: readValue('angle', angle, 'trial mass', read.system, read.tell),
  };
}

/** Amplitudes may be in any unit, as long as all are in the same. */
class VibrationUnit {
  #name: string | undefined;

  get name(): string {
    return this.#name ?? '';
  }

  read(text: string): number {
    const [, digits = '', name = ''] = /^\s*(\d+\.?\d*(?:e[+-]?\d+)?|\.\d+)\s*(\D*?)\s*$/i.exec(text) ?? [];
    if (digits === '')
      throw new ValueFault(`reading: expected an amplitude, such as 4.8 or 4.8mm/s, came ${JSON.stringify(text)}`);
    this.#name ??= name;
    if (this.#name !== name) {
      throw new ValueFault(
        `reading: expected all amplitudes in one unit, came ${JSON.stringify(this.#name)} and ${JSON.stringify(name)}`,
      );
    }
    return Number(digits);
  }
}
