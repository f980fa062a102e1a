// What would tell the causes of a vibration apart, as sentences for the person who can do it. Common practice, no source.
import type { Experiment } from './causes.ts';
import { say } from './language/index.ts';

export function experimentSentence({ kind, assemblyId, spindleId, benchId, device }: Experiment): string {
  const assembly = assemblyId ?? say`the assembly`;
  const inSpindle = spindleId === undefined ? say`in the spindle` : say`in ${spindleId}`;
  const ofSpindle = spindleId === undefined ? say`of the spindle` : say`of ${spindleId}`;
  switch (kind) {
    case 'clamp-again':
      return say`Clean taper and holder and clamp ${assembly} again ${inSpindle}: if it is quiet then, it was this clamping.`;
    case 'run-elsewhere': {
      const elsewhere = spindleId === undefined ? say`in another spindle` : inSpindle;
      return say`Run ${assembly} ${elsewhere}, once it was looked at and measured and the gate has no objection: if it is as loud there, it is the assembly.`;
    }
    case 'other-assembly-here': {
      const other = assemblyId ?? say`another assembly of known balance`;
      return say`Run ${other} ${inSpindle}: if it is loud as well, it is not the assembly.`;
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
    case 'check-sensor':
      return say`Look after ${device ?? say`the sensor`} ${ofSpindle}: mounting, cable, sensitivity, and whether it sits where it did, on this spindle.`;
    case 'check-drawbar':
      return say`Have the drawbar force ${ofSpindle} measured, by maintenance.`;
    case 'run-at-other-speed':
      return say`Run ${assembly} ${inSpindle} some hundred rpm slower, never above what is marked: if only this speed is loud, it is a resonance.`;
  }
}
