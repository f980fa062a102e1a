// What npm run faults was asked for; what is wrong with it is said before anything is killed.
import { commandLine, countIn, wrongUse } from '../environment/command-line.ts';
import type { TrialKind } from './trial.ts';

const KINDS: readonly TrialKind[] = ['kill', 'power-cut', 'disk-full', 'network', 'bad-input'];

const USAGE = `npm run faults -- [--trials 5] [--seed 1] [--kind ${KINDS.join('|')}]… [--skip-proof] [--json]`;

export interface Wish {
  readonly trials: number;
  readonly first: number;
  readonly kinds: readonly TrialKind[];
  readonly isProven: boolean;
  readonly asJson: boolean;
}

/** Ends the process where it is none that can be done. */
export function wished(): Wish {
  const { values } = commandLine(USAGE, {
    options: {
      trials: { type: 'string', default: '5' },
      seed: { type: 'string', default: '1' },
      json: { type: 'boolean', default: false },
      kind: { type: 'string', multiple: true },
      'skip-proof': { type: 'boolean', default: false },
    },
  });
  return {
    trials: countIn(USAGE, '--trials', values.trials),
    first: countIn(USAGE, '--seed', values.seed),
    kinds: kindsAsked(values.kind),
    isProven: !values['skip-proof'],
    asJson: values.json,
  };
}

/** None that is misspelt is left out: a run without trials would pass. */
function kindsAsked(names: readonly string[] | undefined): readonly TrialKind[] {
  const unknown = names?.find((name) => !KINDS.some((kind) => kind === name));
  if (unknown !== undefined)
    wrongUse(USAGE, `--kind: expected one of ${KINDS.join(', ')}; came ${JSON.stringify(unknown)}`);
  return KINDS.filter((kind) => names === undefined || names.includes(kind));
}
