// The part of the gate's answer that balance gives: measured since it was built, and shown to be within at this speed?
import { say } from '../../shared/language/index.ts';
import { amountWords, factorWords, rpmWords } from '../../shared/wording.ts';
import { lastCorrection } from './correction-order.ts';
import type { Judgement, MeasurementState } from './floor.ts';
import type { Asked, Said } from './gate.ts';
import { ROUNDING_SHARE } from './limits.ts';
import { unobjectedUpToRpm } from './pairing.ts';

const KEEP_LIMITS = say`Keep to the limits of the machine and tool makers.`;

/** Asked last, when nothing else stood against it. */
export function balanceAnswer(asked: Asked): Said {
  const { pairing, speedRpm = 0, assemblyId } = asked;
  const { deviation, measurement } = pairing ?? {};
  if (deviation !== undefined && speedRpm <= deviation.upToRpm * (1 + ROUNDING_SHARE)) {
    const upTo = rpmWords(deviation.upToRpm);
    const [by = '', confirmedBy] = deviation.by.split(' and ');
    const why =
      confirmedBy === undefined
        ? say`${by} let ${assemblyId} go on up to ${upTo} by a deviation on record.`
        : say`${by} and ${confirmedBy} let ${assemblyId} go on up to ${upTo} by a deviation on record.`;
    return { word: 'NO OBJECTION', reason: 'within', why, next: KEEP_LIMITS };
  }
  if (measurement === undefined) return unmeasuredAnswer(asked);
  const said = judgedAnswer(asked, measurement.judgement, speedRpm);
  return measurement.inDoubt === undefined || said.word === 'HOLD BACK'
    ? said
    : doubtfulAnswer(assemblyId, measurement);
}

function unmeasuredAnswer({ assembly, pairing, assemblyId }: Asked): Said {
  const corrected = assembly !== undefined && lastCorrection(assembly, pairing?.buildId) !== undefined;
  return {
    word: 'MEASURE FIRST',
    reason: 'not-measured-since-build',
    why: corrected
      ? say`${assemblyId} was corrected and not measured since.`
      : say`${assemblyId} was not measured since it was last built or changed.`,
    next: say`Take it to the bench and measure it.`,
  };
}

/** Its last result stands, but nobody knows what it is worth. */
function doubtfulAnswer(assemblyId: string, { bench, inDoubt = '' }: MeasurementState): Said {
  return {
    word: 'MEASURE FIRST',
    reason: 'measurement-in-doubt',
    why: say`${assemblyId} was measured on ${bench}, which is in doubt: ${inDoubt}.`,
    next: say`Measure it on a bench that has passed its check.`,
  };
}

function judgedAnswer(asked: Asked, judgement: Judgement, speedRpm: number): Said {
  const { pairing, assemblyId } = asked;
  const { kind, shownUpToRpm, serviceSpeedRpm, exceedsAboveRpm = 0 } = judgement;
  if (shownUpToRpm === undefined || serviceSpeedRpm === undefined) {
    return {
      word: 'MEASURE FIRST',
      reason: 'undecided',
      why: say`${assemblyId} was measured, but its mass, service speed or grade is not known.`,
      next: say`Ask the tool room to declare the build.`,
    };
  }
  if (speedRpm <= shownUpToRpm * (1 + ROUNDING_SHARE)) {
    if (speedRpm > serviceSpeedRpm * (1 + ROUNDING_SHARE) && isWithoutMaximum(asked)) return unmarked(serviceSpeedRpm);
    const why = say`${assemblyId} is within its permissible residual unbalance at ${rpmWords(speedRpm)}, measuring error counted.`;
    return { word: 'NO OBJECTION', reason: 'within', why, next: KEEP_LIMITS };
  }
  if (pairing !== undefined && speedRpm <= (unobjectedUpToRpm(pairing) ?? 0) * (1 + ROUNDING_SHARE))
    return cannotBeShown(assemblyId, judgement, speedRpm);
  if (speedRpm > serviceSpeedRpm * (1 + ROUNDING_SHARE)) {
    return {
      word: 'HOLD BACK',
      reason: 'speed-above-balanced',
      why: say`${assemblyId} is balanced for ${rpmWords(Math.max(shownUpToRpm, 0))}, not for ${rpmWords(speedRpm)}.`,
      next: say`Program ${rpmWords(shownUpToRpm)} or less, or have it balanced and measured for ${rpmWords(speedRpm)}.`,
    };
  }
  if (kind === 'exceeds' && speedRpm > exceedsAboveRpm) {
    const { factor = 0 } = judgement;
    return {
      word: 'HOLD BACK',
      reason: 'residual-exceeds',
      why: say`The residual unbalance of ${assemblyId} is ${factorWords(factor)} what is permissible at ${rpmWords(serviceSpeedRpm)}.`,
      next: say`Have it corrected and measured again.`,
    };
  }
  return {
    word: 'MEASURE FIRST',
    reason: 'undecided',
    why: say`Within the measuring error it is undecided whether ${assemblyId} is within at ${rpmWords(speedRpm)}.`,
    next: say`Clean, clamp and measure it again, or have it corrected further.`,
  };
}

/** No maker's limit is known, neither of its parts nor of the spindle. */
const isWithoutMaximum = ({ pairing, spindle }: Asked): boolean =>
  pairing?.build?.lowestMarkedRpm === undefined && spindle?.declaration?.maxSpeedRpm === undefined;

/** Beyond what it is meant for balance alone says nothing of whether it may turn so fast. */
function unmarked(serviceSpeedRpm: number): Said {
  return {
    word: 'HOLD BACK',
    reason: 'no-marked-maximum',
    why: say`It is meant for up to ${rpmWords(serviceSpeedRpm)}, and no marked maximum of its parts is known.`,
    next: say`Have the marked maximum of its parts declared, or program ${rpmWords(serviceSpeedRpm)} or less.`,
  };
}

/** Said instead of failing it for ever: no bench could show this grade through this interface at this speed. */
function cannotBeShown(assemblyId: string, { gradeMmS, reclampingUm }: Judgement, speedRpm: number): Said {
  const scatter = reclampingUm === undefined ? '' : say` of ${amountWords(reclampingUm)} µm`;
  return {
    word: 'NO OBJECTION',
    reason: 'undecided',
    why: say`The reading of ${assemblyId} is within; that it meets G ${amountWords(gradeMmS ?? 0)} at ${rpmWords(speedRpm)} cannot be shown by anyone, because reclamping${scatter} alone uses up more than is permitted.`,
    next: `${say`Ask the plant engineer whether this grade is meant.`} ${KEEP_LIMITS}`,
  };
}
