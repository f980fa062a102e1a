// What npm run evaluate was asked for; what is wrong with it is said before anything is played.
import { commandLine, countIn, wrongUse } from '../environment/command-line.ts';
import { FIRST_REPORTING_SEED, FIRST_TUNING_SEED, kindsNamed } from './trials.ts';

/** A few minutes on two cores. */
const SEEDS = '4';
export const LONG = 'long';
export const AHEAD = 'ahead';
const USAGE = `npm run evaluate -- [${LONG}] [${AHEAD}] [KIND…] [--seeds ${SEEDS}] [--tuning] [--json] [--keep FILE]
  Without ${LONG}, ${AHEAD} and KIND all are played.
  ${LONG}: scenarios of weeks and months of a plant, straight through the rules
  ${AHEAD}: daily levels on their way to a limit, and how many of the dates that are said hold
  KIND, or the beginning of one, is a short trial through intake as well: ${kindsNamed([]).join(' ')}
  --seeds takes a whole number from 1 on
  --tuning plays the seeds for whoever works on the rules, from ${FIRST_TUNING_SEED} on, instead of those for reported figures
  --json prints a line for each figure: {name, value, unit, better, baseline}
  --keep writes each long scenario's verdict to FILE; a run that was stopped goes on from there`;

export interface Wish {
  readonly kinds: ReturnType<typeof kindsNamed>;
  readonly isLong: boolean;
  readonly isAhead: boolean;
  readonly first: number;
  readonly seeds: number;
  readonly asJson: boolean;
  readonly keep: string | undefined;
}

/** Ends the process where it is none that can be done. */
export function wished(): Wish {
  const { values, positionals } = commandLine(USAGE, {
    allowPositionals: true,
    options: {
      json: { type: 'boolean', default: false },
      tuning: { type: 'boolean', default: false },
      seeds: { type: 'string', default: SEEDS },
      keep: { type: 'string' },
    },
  });
  const names = positionals.filter((name) => name !== LONG && name !== AHEAD);
  const unknown = names.find((name) => name === '' || kindsNamed([name]).length === 0);
  if (unknown !== undefined)
    wrongUse(USAGE, `${JSON.stringify(unknown)}: expected ${LONG}, ${AHEAD}, a KIND or the beginning of one`);
  const isAll = positionals.length === 0;
  const [isLong, isAhead] = [isAll || positionals.includes(LONG), isAll || positionals.includes(AHEAD)];
  if (values.keep !== undefined && !isLong)
    wrongUse(USAGE, `--keep: only ${LONG} scenarios are kept; expected ${LONG} among what is played`);
  return {
    kinds: !isAll && names.length === 0 ? [] : kindsNamed(names),
    isLong,
    isAhead,
    first: values.tuning ? FIRST_TUNING_SEED : FIRST_REPORTING_SEED,
    seeds: countIn(USAGE, '--seeds', values.seeds),
    asJson: values.json,
    keep: values.keep,
  };
}
