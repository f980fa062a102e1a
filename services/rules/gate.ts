// The gate: may this assembly run in this spindle at this speed? One word, the speed that governs, one reason, one next step.
import { GATE_CAUTION, type GateAnswer, type GateReason, type GateWord } from '../../shared/gate.ts';
import type { GateQuestion } from '../../shared/messages/index.ts';
import { awaitedSince, type Hold } from '../../shared/holds.ts';
import { say } from '../../shared/language/index.ts';
import { amountWords, rpmWords } from '../../shared/wording.ts';
import { lastCorrection } from './correction-order.ts';
import type { AssemblyState, Floor, SpindleState } from './floor.ts';
import { balanceAnswer } from './gate-balance.ts';
import { suspectAnswer } from './gate-suspect.ts';
import { baseLayer, type Layer } from './layer.ts';
import { ROUNDING_SHARE, UNBOUNDED_RPM } from './limits.ts';
import { pairingOf, unobjectedUpToRpm, type Pairing } from './pairing.ts';

/** What an answer says beside the names and speeds that every answer bears. */
export interface Said {
  readonly word: GateWord;
  readonly reason: GateReason;
  readonly why: string;
  readonly next: string;
  readonly holdId?: string;
}

/** All that the answer may depend on. */
export interface Asked {
  readonly spindleId: string;
  readonly assemblyId: string;
  readonly layer: Layer;
  readonly spindle: SpindleState | undefined;
  readonly assembly: AssemblyState | undefined;
  readonly pairing: Pairing | undefined;
  readonly speedRpm: number | undefined;
}

export function gate(floor: Floor, question: GateQuestion): GateAnswer {
  return gateIn(baseLayer(floor), question);
}

export function gateIn(layer: Layer, question: GateQuestion): GateAnswer {
  const asked = askedOf(layer, question);
  const { spindleId, assemblyId, speedRpm } = asked;
  return {
    ...answerTo(asked),
    spindleId,
    assemblyId,
    ...(speedRpm === undefined ? {} : { askedSpeedRpm: speedRpm }),
    ...governorOf(asked),
    caution: GATE_CAUTION,
  };
}

/** Without a speed in the question the programmed one counts for what is loaded, else the speed it is meant for. */
function askedOf(layer: Layer, question: GateQuestion): Asked {
  const { spindleId, assemblyId } = question;
  const spindle = layer.spindle(spindleId);
  const assembly = layer.assembly(assemblyId);
  const loaded = spindle?.loaded?.assemblyId === assemblyId ? spindle.loaded : undefined;
  const pairing = assembly === undefined ? undefined : pairingOf(assembly, loaded?.buildId);
  const programmed = loaded === undefined ? undefined : spindle?.machine?.programmedSpeedRpm;
  const meant = pairing?.build?.serviceSpeedRpm ?? pairing?.measurement?.judgement.serviceSpeedRpm;
  const speedRpm = question.speedRpm ?? (programmed === 0 ? undefined : programmed) ?? meant;
  return { spindleId, assemblyId, layer, spindle, assembly, pairing, speedRpm };
}

/** The first of these that speaks is the answer. */
function answerTo(asked: Asked): Said {
  const first = unknown(asked) ?? onHold(asked) ?? doesNotFit(asked) ?? tooFast(asked);
  if (first !== undefined) return first;
  const balance = balanceAnswer(asked);
  if (balance.word !== 'NO OBJECTION') return balance;
  return suspectAnswer(asked) ?? overLimit(asked) ?? withRunAwaited(asked, balance);
}

/** Whoever let it run on: what has been over a limit for long in this load, and has not come down, is objected to. */
function overLimit({ spindle, spindleId, assemblyId }: Asked): Said | undefined {
  if (spindle?.loaded?.assemblyId !== assemblyId) return undefined;
  const { loaded, declaration, live } = spindle;
  const index = live.watches.findIndex(({ fired, lastAt }) => fired && lastAt >= loaded.at);
  const limit = declaration?.limits[index];
  if (limit === undefined) return undefined;
  const quantity = limit.quantity === 'overall' ? say`overall vibration` : say`1× vibration`;
  return {
    word: 'HOLD BACK',
    reason: 'over-limit',
    why: say`As last read ${spindleId} is over its limit with ${assemblyId} in it: ${quantity} above ${amountWords(limit.limitMmS)} mm/s; its hold has ended, and it has not come down since.`,
    next: say`Ask whoever let it run on, and maintenance: at standstill, look what it comes from.`,
  };
}

/** Spelled in any way: with blanks, hyphens, in small letters. */
const spelled = (taper: string): string => taper.toUpperCase().replaceAll(/[^\p{L}\p{N}]/gu, '');

/** What is not of the same taper does not belong there, and of like size it may even seat. */
function doesNotFit({ assemblyId, spindleId, pairing, spindle }: Asked): Said | undefined {
  const own = pairing?.build?.interface;
  const theirs = spindle?.declaration?.interface;
  if (own === undefined || theirs === undefined || spelled(own) === spelled(theirs)) return undefined;
  return {
    word: 'HOLD BACK',
    reason: 'interface-differs',
    why: say`${assemblyId} is declared with ${own}, ${spindleId} with ${theirs}.`,
    next: say`Look whether it is the right assembly for this spindle; where both are the same, declare both alike.`,
  };
}

/** The first run after a maintenance release is the one that is to show what it was worth. */
function withRunAwaited({ layer, spindleId }: Asked, said: Said): Said {
  const hold = layer
    .openHolds({ kind: 'spindle', id: spindleId })
    .find((one) => awaitedSince(one, 'verification-run') !== undefined);
  if (hold === undefined) return said;
  const next = `${say`${spindleId} is on hold until a run verifies that maintenance put it right: watch the vibration of this one.`} ${said.next}`;
  return { ...said, next, holdId: hold.holdId };
}

/** Both ids in the other's place: a scanner does not know which field it types into. */
function isCrossed({ layer, assemblyId, spindleId }: Asked): boolean {
  return layer.spindle(assemblyId) !== undefined && layer.assembly(spindleId) !== undefined;
}

function unknown(asked: Asked): Said | undefined {
  const { spindle, assembly, assemblyId, spindleId } = asked;
  if (isCrossed(asked))
    return {
      word: 'HOLD BACK',
      reason: 'unknown-spindle',
      why: say`${spindleId} is an assembly here, and ${assemblyId} is a spindle: the two stand in each other’s place.`,
      next: say`Ask again with the two exchanged.`,
    };
  if (assembly === undefined || (assembly.builds.length === 0 && assembly.measurements.length === 0)) {
    return {
      word: 'MEASURE FIRST',
      reason: 'unknown-assembly',
      why: say`Nobody has built or measured ${assemblyId} here.`,
      next: say`Take it to the tool room: it has to be declared and measured.`,
    };
  }
  if (spindle !== undefined) return undefined;
  return {
    word: 'HOLD BACK',
    reason: 'unknown-spindle',
    why: say`${spindleId} is not known here.`,
    next: say`Look whether the name is right; else ask the plant engineer to declare the spindle.`,
  };
}

function onHold(asked: Asked): Said | undefined {
  const { layer, assemblyId, spindleId } = asked;
  const [assemblyHold] = layer.openHolds({ kind: 'assembly', id: assemblyId });
  if (assemblyHold !== undefined) {
    const corrected = correctedSince(asked, assemblyHold);
    if (corrected !== undefined) return corrected;
    return {
      word: 'HOLD BACK',
      reason: 'on-hold',
      why: say`${assemblyId} is on hold.`,
      next:
        assemblyHold.reason === 'speed-above-balanced'
          ? say`Take it out: that, or balancing it for this speed, ends its hold.`
          : say`Take it to the tool room; its hold says what releases it.`,
      holdId: assemblyHold.holdId,
    };
  }
  const spindleHold = layer.openHolds({ kind: 'spindle', id: spindleId }).find((hold) => keepsOut(hold, assemblyId));
  if (spindleHold === undefined) return undefined;
  return {
    word: 'HOLD BACK',
    reason: 'spindle-on-hold',
    why: say`${spindleId} is on hold.`,
    next: say`Ask maintenance; its hold says what releases it.`,
    holdId: spindleHold.holdId,
  };
}

/**
 * A spindle that is held only because of what is in it takes another assembly; one that maintenance has released takes the one
 * that is to show what the repair was worth; a sensor that cannot be believed says nothing of the spindle.
 */
function keepsOut(hold: Hold, assemblyId: string): boolean {
  const { reason, evidence } = hold;
  if (reason === 'sensor-cannot-judge') return false;
  if (reason === 'held-assembly-loaded') return evidence.assemblyId === assemblyId;
  return awaitedSince(hold, 'verification-run') === undefined;
}

/** Held for its residual and nothing else, and corrected since: what it needs now is a measurement. */
function correctedSince({ layer, assemblyId, pairing, assembly }: Asked, hold: Hold): Said | undefined {
  if (assembly === undefined || pairing?.measurement !== undefined || hold.reason !== 'residual-exceeds')
    return undefined;
  if (lastCorrection(assembly, pairing?.buildId) === undefined) return undefined;
  if (layer.openHolds({ kind: 'assembly', id: assemblyId }).length > 1) return undefined;
  return {
    word: 'MEASURE FIRST',
    reason: 'not-measured-since-build',
    why: say`${assemblyId} is on hold for its residual unbalance; it was corrected and not measured since.`,
    next: say`Take it to the bench and measure it; a result that is within ends its hold.`,
    holdId: hold.holdId,
  };
}

/** Makers' limits come before anything that balance could say. */
function tooFast(asked: Asked): Said | undefined {
  const { speedRpm, spindle, pairing, spindleId } = asked;
  if (speedRpm === undefined) {
    const why = say`No speed was asked about, none is programmed, and the build names none.`;
    return { word: 'HOLD BACK', reason: 'no-speed', why, next: say`Ask again with the programmed speed.` };
  }
  const isAbove = (limit: number | undefined): limit is number =>
    limit !== undefined && speedRpm > limit * (1 + ROUNDING_SHARE);
  const marked = pairing?.build?.lowestMarkedRpm;
  const upTo = rpmWords(governorOf(asked).governingSpeedRpm ?? speedRpm);
  if (isAbove(marked)) {
    const part = pairing?.build?.lowestMarkedPart ?? say`one of its parts`;
    return {
      word: 'HOLD BACK',
      reason: 'speed-above-marked',
      why: say`${rpmWords(speedRpm)} is above the lowest marked maximum of its parts: ${rpmWords(marked)} (${part}).`,
      next: say`Program ${upTo} or less, or have another assembly built.`,
    };
  }
  const max = spindle?.declaration?.maxSpeedRpm;
  if (!isAbove(max)) return undefined;
  return {
    word: 'HOLD BACK',
    reason: 'speed-above-spindle',
    why: say`${rpmWords(speedRpm)} is above the limit of ${spindleId} as declared: ${rpmWords(max)}.`,
    next: say`Program ${upTo} or less.`,
  };
}

function governorOf({ pairing, spindle }: Asked): Pick<GateAnswer, 'governingSpeedRpm' | 'governedBy'> {
  const limits = [
    ['marked-maximum', pairing?.build?.lowestMarkedRpm],
    ['balance', pairing === undefined ? undefined : unobjectedUpToRpm(pairing)],
    ['spindle-maximum', spindle?.declaration?.maxSpeedRpm],
  ] as const;
  let lowest: Pick<GateAnswer, 'governingSpeedRpm' | 'governedBy'> = {};
  for (const [governedBy, governingSpeedRpm] of limits) {
    if (governingSpeedRpm === undefined || governingSpeedRpm >= (lowest.governingSpeedRpm ?? UNBOUNDED_RPM)) continue;
    lowest = { governingSpeedRpm, governedBy };
  }
  return lowest;
}
