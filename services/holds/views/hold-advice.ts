// What to check first, by reason, and the cautions that go with it. Common practice, no source, unless a line says so.
import { ADVISORY, BALANCE_IS_NOT_STRENGTH, CORRECTION_WEAKENS, LOCKOUT } from '../../../shared/cautions.ts';
import type { HoldReason, ReleaseCondition } from '../../../shared/holds.ts';
import { rpmWords } from '../../../shared/wording.ts';

const MEASURE =
  'Clean taper and bench adapter, clamp again and measure again; index by 180° so that the bench cancels.';

const CHECK_FIRST: Record<HoldReason, readonly string[]> = {
  'residual-exceeds': [
    MEASURE,
    'Is the build the one that was measured? A changed cutter, nut or screw is another build.',
    'Chips or coolant in bores and screw holes change the unbalance: clean them before correcting.',
    'Correct as the holder maker allows, measure again, and keep both results.',
  ],
  'speed-above-balanced': [
    'Is the programmed speed meant, and the right assembly in the spindle?',
    'Lower the programmed speed to what the assembly is balanced for, or take it out.',
    'Have it balanced and measured for the speed that is wanted.',
  ],
  'speed-above-marked': [
    'Take the assembly out. The lowest marked maximum of any part governs.',
    'Is the marked maximum entered as the maker marked it?',
  ],
  'not-measured-since-build': ['Take it to the bench and measure the build that is in the spindle.', MEASURE],
  'held-assembly-loaded': ['Take the assembly out of the spindle.', 'See what its own hold asks for.'],
  'overall-over-limit': [
    'Does it stay with another assembly? Then it is not the assembly.',
    'Clamp the same assembly again after cleaning taper and holder: was it this clamping?',
    'Is the sensor firmly mounted, and the speed the one the limit is for?',
    'Drawbar force and bearing: by maintenance.',
  ],
  'synchronous-over-limit': [
    'Clamp the same assembly again after cleaning taper and holder: was it this clamping?',
    'Run another assembly of known balance: does the spindle still answer as much?',
    'Measure the assembly on the bench: was something changed or lost?',
    'Drawbar force, by maintenance.',
  ],
  'vibration-unexplained': [
    'Clamp the same assembly again after cleaning taper and holder: was it this clamping?',
    'Run another assembly of known balance: does the spindle still answer as much?',
    'Measure the assembly on the bench: was something changed or lost?',
  ],
  'bench-in-doubt': [
    'Is the proving rotor clean, and clamped as it was when its values were set?',
    'Clean the bench adapter, calibrate the bench as its maker says, and run the check again.',
    'Measure on another bench what has to run meanwhile.',
  ],
  'sensor-cannot-judge': [
    'Is the sensor firmly mounted, its cable whole, its connector dry?',
    'Is it the sensor that is enrolled for this spindle, with its own sensitivity?',
    'Until it is sound nothing is known of this spindle: quiet readings say nothing.',
  ],
};

export function checkFirst(reason: HoldReason): readonly string[] {
  return CHECK_FIRST[reason];
}

export function cautionsOf(reason: HoldReason): readonly string[] {
  switch (reason) {
    case 'residual-exceeds':
    case 'not-measured-since-build':
      return [ADVISORY, CORRECTION_WEAKENS];
    case 'speed-above-balanced':
    case 'speed-above-marked':
      return [ADVISORY, BALANCE_IS_NOT_STRENGTH];
    case 'held-assembly-loaded':
      return [ADVISORY, LOCKOUT];
    case 'bench-in-doubt':
      return [ADVISORY];
    case 'overall-over-limit':
    case 'synchronous-over-limit':
    case 'vibration-unexplained':
    case 'sensor-cannot-judge':
      return [ADVISORY, LOCKOUT];
  }
}

export function conditionWords(condition: ReleaseCondition): string {
  switch (condition.kind) {
    case 'passing-measurement':
      return `${condition.assemblyId} is measured again and is within its permissible residual at ${rpmWords(condition.speedRpm)}`;
    case 'unloaded':
      return `${condition.assemblyId} is taken out of ${condition.spindleId}`;
    case 'hold-ended':
      return `hold ${condition.holdId} has ended`;
    case 'maintenance-release':
      return `maintenance releases ${condition.spindleId} by name, with what was found`;
    case 'verification-run':
      return `after a maintenance release an assembly of known balance runs in ${condition.spindleId} as expected`;
    case 'bench-check-passed':
      return `${condition.benchId} passes the check that it failed`;
    case 'sensor-sound':
      return `the sensor of ${condition.spindleId} is sound again`;
  }
}
