// What would tell the causes of a vibration apart, as sentences for the person who can do it. Common practice, no source.
import type { Cause } from './cause-words.ts';
import type { CauseFinding, Experiment, ExperimentKind } from './causes.ts';
import { say } from './language/index.ts';

/** What would only tell a cause that is ruled out already. */
const TELLS_ONLY: Readonly<Partial<Record<ExperimentKind, Cause>>> = {
  'measure-on-other-bench': 'bench',
  'prove-bench': 'bench',
  'check-sensor': 'sensor',
};

/** The experiments of a finding, most telling first, without those about what it rules out. */
export function experimentsLeft({
  experiments,
  ruledOut,
}: Pick<CauseFinding, 'experiments' | 'ruledOut'>): Experiment[] {
  const out = new Set(ruledOut.map(({ cause }) => cause));
  return experiments.filter(({ kind }) => {
    const cause = TELLS_ONLY[kind];
    return cause === undefined || !out.has(cause);
  });
}

/** Whole for each case: in what order a language has them is its own affair. */
export function experimentSentence({ kind, assemblyId, spindleId, benchId, device }: Experiment): string {
  const assembly = assemblyId ?? say`the assembly`;
  switch (kind) {
    case 'clamp-again':
      return spindleId === undefined
        ? say`Clean taper and holder and clamp ${assembly} again in the spindle: if it is quiet then, it was this clamping.`
        : say`Clean taper and holder and clamp ${assembly} again in ${spindleId}: if it is quiet then, it was this clamping.`;
    case 'run-elsewhere':
      return spindleId === undefined
        ? say`Run ${assembly} in another spindle, once it was looked at and measured and the gate has no objection: if it is as loud there, it is the assembly.`
        : say`Run ${assembly} in ${spindleId}, once it was looked at and measured and the gate has no objection: if it is as loud there, it is the assembly.`;
    case 'other-assembly-here': {
      const other = assemblyId ?? say`another assembly of known balance`;
      return spindleId === undefined
        ? say`Run ${other} in the spindle: if it is loud as well, it is not the assembly.`
        : say`Run ${other} in ${spindleId}: if it is loud as well, it is not the assembly.`;
    }
    case 'measure-on-bench':
      return benchId === undefined
        ? say`Measure ${assembly} on the bench: if it is as it was, the assembly has not changed.`
        : say`Measure ${assembly} on ${benchId}: if it is as it was, the assembly has not changed.`;
    case 'measure-on-other-bench':
      // The bench that is named is the one that measured it.
      return benchId === undefined
        ? say`Measure ${assembly} on another bench: if the two differ, one of the benches is wrong.`
        : say`Measure ${assembly} on another bench than ${benchId}: if the two differ, one of the benches is wrong.`;
    case 'prove-bench':
      return benchId === undefined
        ? say`Run the proving rotor on the bench: if it reads off, so do its results.`
        : say`Run the proving rotor on ${benchId}: if it reads off, so do its results.`;
    case 'check-sensor': {
      const sensor = device ?? say`the sensor`;
      return spindleId === undefined
        ? say`Look after ${sensor} of the spindle: mounting, cable, sensitivity, and whether it sits where it did, on this spindle.`
        : say`Look after ${sensor} of ${spindleId}: mounting, cable, sensitivity, and whether it sits where it did, on this spindle.`;
    }
    case 'check-drawbar':
      return spindleId === undefined
        ? say`Have the drawbar force of the spindle measured, by maintenance.`
        : say`Have the drawbar force of ${spindleId} measured, by maintenance.`;
    case 'run-at-other-speed':
      return spindleId === undefined
        ? say`Run ${assembly} in the spindle some hundred rpm slower, never above what is marked: if only this speed is loud, it is a resonance.`
        : say`Run ${assembly} in ${spindleId} some hundred rpm slower, never above what is marked: if only this speed is loud, it is a resonance.`;
  }
}
