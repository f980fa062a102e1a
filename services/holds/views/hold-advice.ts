// What to check first, by reason, and the cautions that go with it. Common practice, no source, unless a line says so.
import type { Cause, CauseFinding, ExperimentKind } from '../../../shared/causes.ts';
import { ADVISORY, BALANCE_IS_NOT_STRENGTH, CORRECTION_WEAKENS, LOCKOUT } from '../../../shared/cautions.ts';
import { experimentSentence, experimentsLeft } from '../../../shared/experiment-words.ts';
import type { HoldReason, ReleaseCondition } from '../../../shared/holds.ts';
import { say } from '../../../shared/language/index.ts';
import { rpmWords } from '../../../shared/wording.ts';

const MEASURE = say`Clean taper and bench adapter, clamp again and measure again; index by 180° so that the bench cancels.`;

const LOOK_BEFORE_IT_RUNS = say`At standstill, before anything runs again anywhere: an insert lost or broken, a screw or nut loose, a chip or a mark on the taper?`;

const CHECK_FIRST: Record<HoldReason, readonly string[]> = {
  'residual-exceeds': [
    MEASURE,
    say`Is the build the one that was measured? A changed cutter, nut or screw is another build.`,
    say`Chips or coolant in bores and screw holes change the unbalance: clean them before correcting.`,
    say`Correct as the holder maker allows, measure again, and keep both results.`,
  ],
  'speed-above-balanced': [
    say`Is the programmed speed meant, and the right assembly in the spindle?`,
    say`Lower the programmed speed to what the assembly is balanced for until it is out; that alone does not end the hold.`,
    say`Have it balanced and measured for the speed that is wanted.`,
  ],
  'speed-above-marked': [
    say`Take the assembly out. The lowest marked maximum of any part governs.`,
    say`Is the marked maximum entered as the maker marked it?`,
  ],
  'not-measured-since-build': [say`Take it to the bench and measure the build that is in the spindle.`, MEASURE],
  'held-assembly-loaded': [say`Take the assembly out of the spindle.`, say`See what its own hold asks for.`],
  'overall-over-limit': [
    LOOK_BEFORE_IT_RUNS,
    say`Does it stay with another assembly? Then it is not the assembly.`,
    say`Clamp the same assembly again after cleaning taper and holder: was it this clamping?`,
    say`Is the sensor firmly mounted, and the speed the one the limit is for?`,
    say`Drawbar force and bearing: by maintenance.`,
  ],
  'synchronous-over-limit': [
    LOOK_BEFORE_IT_RUNS,
    say`Clamp the same assembly again after cleaning taper and holder: was it this clamping?`,
    say`Run another assembly of known balance: does the spindle still answer as much?`,
    say`Measure the assembly on the bench: was something changed or lost?`,
    say`Drawbar force, by maintenance.`,
  ],
  'vibration-unexplained': [
    LOOK_BEFORE_IT_RUNS,
    say`Clamp the same assembly again after cleaning taper and holder: was it this clamping?`,
    say`Run another assembly of known balance: does the spindle still answer as much?`,
    say`Measure the assembly on the bench: was something changed or lost?`,
  ],
  'bench-in-doubt': [
    say`Is the proving rotor clean, and clamped as it was when its values were set?`,
    say`Clean the bench adapter, calibrate the bench as its maker says, and run the check again.`,
    say`Measure on another bench what has to run meanwhile.`,
  ],
  'sensor-cannot-judge': [
    say`Is the sensor firmly mounted, its cable whole, its connector dry?`,
    say`Is it the sensor that is enrolled for this spindle, with its own sensitivity?`,
    say`Until it is sound nothing is known of this spindle: quiet readings say nothing.`,
  ],
};

/** By the cause where one is named; where none is, a look, then what would tell them apart, then what is usual for the reason. */
export function checkFirst(reason: HoldReason, finding?: CauseFinding): readonly string[] {
  if (finding === undefined) return CHECK_FIRST[reason];
  if (finding.named !== undefined) return CHECK_BY_CAUSE[finding.named];
  const experiments = experimentsLeft(finding).slice(0, EXPERIMENTS_FIRST_MAX);
  const clampsAgain = experiments.some(({ kind }) => kind === 'clamp-again');
  return [
    LOOK_BEFORE_IT_RUNS,
    ...(isDrawbarPossible(finding) ? [DRAWBAR_LETS_GO] : []),
    ...experiments.filter(({ kind }) => !RUNS_IT.has(kind)).map(experimentSentence),
    ...experiments.filter(({ kind }) => RUNS_IT.has(kind)).map(experimentSentence),
    ...(clampsAgain ? [] : CHECK_FIRST[reason].slice(1, 2)),
  ];
}

const EXPERIMENTS_FIRST_MAX = 3;
/** What asks for a run comes after what does not, however much it would tell: a part may be about to come off. */
const RUNS_IT: ReadonlySet<ExperimentKind> = new Set([
  'clamp-again',
  'run-elsewhere',
  'other-assembly-here',
  'run-at-other-speed',
]);
const DRAWBAR_LETS_GO = say`A drawbar that holds too little lets a tool go: nobody in front of it, and no cut, until it is measured.`;
/** From this share on what may let a tool go is said, named or not. Common practice, no source. */
const DRAWBAR_SAID_FROM = 0.05;

function isDrawbarPossible({ shares }: CauseFinding): boolean {
  return shares.some(({ cause, probability }) => cause === 'drawbar' && probability >= DRAWBAR_SAID_FROM);
}

const CHECK_BY_CAUSE: Readonly<Record<Cause, readonly string[]>> = {
  assembly: [
    say`At standstill, before it runs again anywhere: an insert lost or broken, a screw or nut missing, a part that was changed without a measurement?`,
    MEASURE,
    say`Correct as the holder maker allows, measure again, and keep both results.`,
  ],
  spindle: [
    say`At standstill: chips or coolant in the taper and under the drive keys; loose covers, pulley, coupling: by maintenance.`,
    say`How it answered to unbalance before stands on the spindle’s page: since when has it changed?`,
    say`Then run another assembly of known balance: does the spindle still answer as much?`,
  ],
  clamping: [
    say`Take it out, clean taper and holder, look for a chip or a mark on the taper, clamp it again.`,
    say`If it is quiet then, look where the chip came from: taper blow-off, coolant, tool change.`,
  ],
  drawbar: [
    DRAWBAR_LETS_GO,
    say`Have the drawbar force measured against what the machine maker asks for, by maintenance.`,
    say`Disc springs, gripper and lubrication of the clamping system, as the machine maker says.`,
  ],
  bearing: [
    say`Have its raw windows looked at: do the lines of a bearing part stand in the envelope, and grow?`,
    say`Temperature, noise by ear and lubrication, as the spindle maker says; preload and play by whoever services it.`,
    say`Plan the change before it is due; what is found then belongs into the check of this hold.`,
  ],
  bench: CHECK_FIRST['bench-in-doubt'],
  sensor: CHECK_FIRST['sensor-cannot-judge'],
  resonance: [
    say`Run it some hundred rpm slower, never above what is marked: is only this speed loud?`,
    say`Was something changed about the machine: overhang, clamping of the part, levelling, a fixture?`,
    say`Another programmed speed may be all that it needs; what it is balanced for still bounds it.`,
  ],
};

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

/** The same by itself, with more to follow; undefined of those that nothing more is said of. */
export function conditionSentence(condition: ReleaseCondition): string | undefined {
  return condition.kind === 'passing-measurement'
    ? say`${condition.assemblyId} is measured again and is within its permissible residual at ${rpmWords(condition.speedRpm)}.`
    : undefined;
}

export function conditionWords(condition: ReleaseCondition): string {
  switch (condition.kind) {
    case 'passing-measurement':
      return say`${condition.assemblyId} is measured again and is within its permissible residual at ${rpmWords(condition.speedRpm)}`;
    case 'unloaded':
      return say`${condition.assemblyId} is taken out of ${condition.spindleId}`;
    case 'hold-ended':
      return say`hold ${condition.holdId} has ended`;
    case 'maintenance-release':
      return say`maintenance releases ${condition.spindleId} by name, with what was found`;
    case 'verification-run':
      return say`maintenance releases ${condition.spindleId} by name and an assembly of known balance then runs in it as expected`;
    case 'bench-check-passed':
      return say`${condition.benchId} passes the check that it failed`;
    case 'sensor-sound':
      return say`somebody has checked the sensor of ${condition.spindleId} and it is sound again, or another one is`;
  }
}
