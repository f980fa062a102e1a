// What every calculating verb has in common: its units, --json, --explain, and how it refuses what cannot be meant.
import { InvalidArgumentError, Option, type Command } from 'commander';
import { coreWords } from './core-words.ts';
import { answerJson, answerText, type Answer } from './explain.ts';
import { readValue, readVector, UNIT_SYSTEMS, ValueFault, type QuantityName, type UnitSystem } from './value-units.ts';
import type { UnbalanceVector } from '../../shared/balance/index.ts';

const EXIT_USAGE = 64;
const FORMULAS_ARE_METRIC = 'The formulas stand in metric units, as their sources have them.';

/** A calculating verb's flags as commander gives them. */
export type CalculationFlags = Readonly<Record<string, unknown>>;

/** Commander's parser for a flag that makes sense once: two masses contradict each other, whatever their units. */
export function once(text: string, before: string | undefined): string {
  if (before === undefined) return text;
  throw new InvalidArgumentError(`It was given before, as ${before}; expected it once.`);
}

/** Commander's parser for a flag that may be repeated. */
export function many(text: string, before: readonly string[] = []): readonly string[] {
  return [...before, text];
}

/** Reads flags in the units that were asked for, and keeps what is to be remarked of them. */
export class FlagReader {
  readonly system: UnitSystem;
  readonly remarks: string[] = [];
  readonly #flags: CalculationFlags;

  constructor(flags: CalculationFlags) {
    this.#flags = flags;
    this.system = flags['units'] === 'imperial' ? 'imperial' : 'metric';
  }

  readonly tell = (remark: string): void => {
    if (!this.remarks.includes(remark)) this.remarks.push(remark);
  };

  text(name: string): string | undefined {
    const text = this.#flags[camelOf(name)];
    return typeof text === 'string' ? text : undefined;
  }

  texts(name: string): readonly string[] {
    const texts = this.#flags[camelOf(name)];
    return Array.isArray(texts) ? texts.filter((text) => typeof text === 'string') : [];
  }

  has(name: string): boolean {
    return this.#flags[camelOf(name)] !== undefined;
  }

  value(name: string, quantity: QuantityName): number | undefined {
    const text = this.text(name);
    return text === undefined ? undefined : readValue(quantity, text, `--${name}`, this.system, this.tell);
  }

  /** Throws a ValueFault where the flag is missing. */
  needed(name: string, quantity: QuantityName, what: string): number {
    const value = this.value(name, quantity);
    if (value === undefined) throw new ValueFault(`--${name}: expected ${what}; it is missing`);
    return value;
  }

  vector(name: string): UnbalanceVector | undefined {
    const text = this.text(name);
    return text === undefined ? undefined : readVector(text, `--${name}`, this.system, this.tell);
  }
}

function camelOf(name: string): string {
  return name.replaceAll(/-(\w)/g, (_, letter: string) => letter.toUpperCase());
}

/** Adds the common options and runs the work: wrong use is one line that names the flag, with exit code 64. */
export function calculating(command: Command, work: (read: FlagReader, argument?: string) => Answer): Command {
  return command
    .addOption(
      new Option('--units <system>', 'of bare numbers and of what is shown').choices(UNIT_SYSTEMS).default('metric'),
    )
    .option('--json', 'print JSON, its units in the names')
    .option('--explain', 'print the formulas with the numbers in them and their sources')
    .action((...given: readonly unknown[]) => {
      const flags = command.opts<CalculationFlags>();
      const argument = typeof given[0] === 'string' ? given[0] : undefined;
      const explain = flags['explain'] === true;
      process.stdout.write(
        flags['json'] === true
          ? answerJson(answered(command, work, flags, argument), explain)
          : answerText(answered(command, work, flags, argument), explain),
      );
    });
}

function answered(
  command: Command,
  work: (read: FlagReader, argument?: string) => Answer,
  flags: CalculationFlags,
  argument: string | undefined,
): Answer {
  const read = new FlagReader(flags);
  try {
    const answer = work(read, argument);
    const formulas = flags['explain'] === true && read.system === 'imperial' ? [FORMULAS_ARE_METRIC] : [];
    return { ...answer, remarks: [...answer.remarks, ...read.remarks, ...formulas] };
  } catch (fault) {
    if (!(fault instanceof ValueFault || fault instanceof RangeError)) throw fault;
    const words = fault instanceof ValueFault ? fault.message : coreWords(fault.message, read);
    return command.error(`error: ${words}`, { exitCode: EXIT_USAGE, code: 'counterpoise.value' });
  }
}
