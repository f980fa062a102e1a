// What the calculations refuse, by the flag that brought it instead of the name that it has inside.
import type { FlagReader } from './calculation-options.ts';

/** A name inside, and the flags that may have brought it; of those the one that was given is named. */
const FLAGS_OF: Readonly<Record<string, readonly string[]>> = {
  massKg: ['mass'],
  speedRpm: ['speed'],
  serviceSpeedRpm: ['speed'],
  gradeMmS: ['grade'],
  residualGmm: ['residual'],
  permissibleGmm: ['permissible'],
  planeAMm: ['to-a-at', 'a-at'],
  planeBMm: ['to-b-at', 'b-at'],
  centreOfMassMm: ['centre-of-mass'],
  minimumAchievableGmm: ['smallest-achievable'],
  scaleErrorPercent: ['scale-error'],
  angleErrorDeg: ['angle-error'],
  correctionGmm: ['corrected'],
  dynamicRatingN: ['rating'],
  sharePercent: ['share'],
  trials: ['trial-1'],
  'trial.gmm': ['trial-1'],
  'trials[0]': ['after-1'],
  'trials[1]': ['after-2'],
  withTrial: ['after-1'],
  withTrialOpposite: ['opposite'],
  amountGmm: ['step-amount'],
};
const BEYOND = 'the inputs lie outside of what can be computed';

export function coreWords(message: string, read: FlagReader): string {
  const at = message.indexOf(': ');
  const [name, rest] = [message.slice(0, at), message.slice(at + 2)];
  const flag = (Object.hasOwn(FLAGS_OF, name) ? FLAGS_OF[name] : undefined)?.find((one) => read.has(one));
  if (flag !== undefined) return `--${flag}: ${rest}`;
  return rest === BEYOND ? BEYOND : message;
}
