// What would tell the causes of a vibration apart, as sentences for the person who can do it. Common practice, no source.
import type { Experiment } from './causes.ts';

export function experimentSentence({ kind, assemblyId, spindleId, benchId, device }: Experiment): string {
  const assembly = assemblyId ?? 'the assembly';
  const spindle = spindleId ?? 'the spindle';
  switch (kind) {
    case 'clamp-again':
      return `Clean taper and holder and clamp ${assembly} again in ${spindle}: if it is quiet then, it was this clamping.`;
    case 'run-elsewhere':
      return `Run ${assembly} in ${spindleId ?? 'another spindle'}, once it was looked at and measured and the gate has no objection: if it is as loud there, it is the assembly.`;
    case 'other-assembly-here':
      return `Run ${assemblyId ?? 'another assembly of known balance'} in ${spindle}: if it is loud as well, it is not the assembly.`;
    case 'measure-on-bench':
      return `Measure ${assembly}${benchId === undefined ? ' on the bench' : ` on ${benchId}`}: if it is as it was, the assembly has not changed.`;
    case 'measure-on-other-bench':
      // The bench that is named is the one that measured it.
      return `Measure ${assembly} on another bench${benchId === undefined ? '' : ` than ${benchId}`}: if the two differ, one of the benches is wrong.`;
    case 'prove-bench':
      return `Run the proving rotor on ${benchId ?? 'the bench'}: if it reads off, so do its results.`;
    case 'check-sensor':
      return `Look after ${device ?? 'the sensor'} of ${spindle}: mounting, cable, sensitivity, and whether it sits where it did, on this spindle.`;
    case 'check-drawbar':
      return `Have the drawbar force of ${spindle} measured, by maintenance.`;
    case 'run-at-other-speed':
      return `Run ${assembly} in ${spindle} some hundred rpm slower, never above what is marked: if only this speed is loud, it is a resonance.`;
  }
}
