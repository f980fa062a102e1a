// The gate: may this assembly run in this spindle at this speed? One word, the speed that governs, one reason, one next step.
import { GATE_CAUTION, type GateAnswer, type GateReason, type GateWord } from '../../shared/gate.ts';
import type { GateQuestion } from '../../shared/messages/index.ts';
import { rpmWords } from '../../shared/wording.ts';
import type { AssemblyState, Floor, SpindleState } from './floor.ts';
import { baseLayer, type Layer } from './layer.ts';
import { ROUNDING_SHARE, UNBOUNDED_RPM } from './limits.ts';
import { demandedRpm } from './pairing-rules.ts';
import { balancedUpToRpm, pairingOf, type Pairing } from './pairing.ts';

interface Said {
  readonly word: GateWord;
  readonly reason: GateReason;
  readonly why: string;
  readonly next: string;
  readonly holdId?: string;
}

type Governor = Pick<GateAnswer, 'governingSpeedRpm' | 'governedBy'>;

export function gate(floor: Floor, question: GateQuestion): GateAnswer {
  return gateIn(baseLayer(floor), question);
}

export function gateIn(layer: Layer, question: GateQuestion): GateAnswer {
  const { spindleId, assemblyId } = question;
  const spindle = layer.spindle(spindleId);
  const assembly = layer.assembly(assemblyId);
  const said = spindle?.loaded?.assemblyId === assemblyId ? spindle.loaded.buildId : undefined;
  const pairing = assembly === undefined ? undefined : pairingOf(assembly, said);
  const asked = question.speedRpm ?? askedOf(spindle, assemblyId) ?? pairing?.build?.serviceSpeedRpm;
  const governor = governorOf(spindle, pairing);
  const answer = answerOf({ layer, spindle, assembly, pairing, asked, governor, question });
  return {
    ...answer,
    spindleId,
    assemblyId,
    ...governor,
    ...(asked === undefined ? {} : { askedSpeedRpm: asked }),
    caution: GATE_CAUTION,
  };
}

/** The programmed speed counts for what is loaded, not for what might be. */
function askedOf(spindle: SpindleState | undefined, assemblyId: string): number | undefined {
  if (spindle?.loaded?.assemblyId !== assemblyId) return undefined;
  const speed = demandedRpm(spindle);
  return speed > 0 ? speed : undefined;
}

function governorOf(spindle: SpindleState | undefined, pairing: Pairing | undefined): Governor {
  const limits = [
    { governedBy: 'marked-maximum', speedRpm: pairing?.build?.lowestMarkedRpm },
    { governedBy: 'balance', speedRpm: pairing === undefined ? undefined : balancedUpToRpm(pairing) },
    { governedBy: 'spindle-maximum', speedRpm: spindle?.declaration?.maxSpeedRpm },
  ] as const;
  let lowest: Governor = {};
  for (const { governedBy, speedRpm } of limits) {
    if (speedRpm === undefined || speedRpm >= (lowest.governingSpeedRpm ?? UNBOUNDED_RPM)) continue;
    lowest = { governingSpeedRpm: speedRpm, governedBy };
  }
  return lowest;
}

interface Known {
  readonly layer: Layer;
  readonly spindle: SpindleState | undefined;
  readonly assembly: AssemblyState | undefined;
  readonly pairing: Pairing | undefined;
  readonly asked: number | undefined;
  readonly governor: Governor;
  readonly question: GateQuestion;
}

/** The first of these that speaks is the answer. */
function answerOf(known: Known): Said {
  return unknownAnswer(known) ?? holdAnswer(known) ?? measuredAnswer(known) ?? speedAnswer(known) ?? noObjection(known);
}

function unknownAnswer({ spindle, assembly, question }: Known): Said | undefined {
  if (assembly === undefined) {
    return {
      word: 'MEASURE FIRST',
      reason: 'unknown-assembly',
      why: `${question.assemblyId} is not known here`,
      next: 'Ask the tool room to build and measure it.',
    };
  }
  if (spindle !== undefined) return undefined;
  return {
    word: 'HOLD BACK',
    reason: 'unknown-spindle',
    why: `${question.spindleId} is not known here`,
    next: 'Ask the plant engineer to declare the spindle.',
  };
}

function holdAnswer({ layer, question }: Known): Said | undefined {
  const { assemblyId, spindleId } = question;
  const [assemblyHold] = layer.openHolds({ kind: 'assembly', id: assemblyId });
  if (assemblyHold !== undefined) {
    return {
      word: 'HOLD BACK',
      reason: 'on-hold',
      why: `${assemblyId} is on hold`,
      next: 'Take it to the tool room; the hold says what releases it.',
      holdId: assemblyHold.holdId,
    };
  }
  const [spindleHold] = layer.openHolds({ kind: 'spindle', id: spindleId });
  if (spindleHold === undefined) return undefined;
  return {
    word: 'HOLD BACK',
    reason: 'spindle-on-hold',
    why: `${spindleId} is on hold`,
    next: 'Ask maintenance; the hold says what releases it.',
    holdId: spindleHold.holdId,
  };
}

function measuredAnswer({ pairing, question }: Known): Said | undefined {
  const { assemblyId } = question;
  if (pairing?.deviation !== undefined) return undefined;
  const judgement = pairing?.measurement?.judgement;
  if (judgement === undefined) {
    return {
      word: 'MEASURE FIRST',
      reason: 'not-measured-since-build',
      why: `${assemblyId} was not measured since it was last built`,
      next: 'Have the tool room measure it.',
    };
  }
  switch (judgement.kind) {
    case 'exceeds':
      return {
        word: 'HOLD BACK',
        reason: 'residual-exceeds',
        why: `${assemblyId} exceeds its permissible residual unbalance`,
        next: 'Have it corrected and measured again.',
      };
    case 'undecided':
    case 'cannot-judge':
      return {
        word: 'MEASURE FIRST',
        reason: 'undecided',
        why: `the last measurement of ${assemblyId} does not decide it`,
        next: 'Have it measured again.',
      };
    case 'within':
    case 'cannot-be-shown':
      return undefined;
  }
}

function speedAnswer({ asked, governor, question }: Known): Said | undefined {
  const { governingSpeedRpm, governedBy } = governor;
  if (asked === undefined) {
    const next = 'Say the speed.';
    return { word: 'HOLD BACK', reason: 'no-speed', why: 'no speed was asked about and none is programmed', next };
  }
  if (governingSpeedRpm === undefined || governedBy === undefined) return undefined;
  if (asked <= governingSpeedRpm * (1 + ROUNDING_SHARE)) return undefined;
  const speeds = `${rpmWords(asked)} is above ${rpmWords(governingSpeedRpm)}`;
  switch (governedBy) {
    case 'marked-maximum':
      return {
        word: 'HOLD BACK',
        reason: 'speed-above-marked',
        why: `${speeds}, the lowest marked maximum of its parts`,
        next: `Stay at or below ${rpmWords(governingSpeedRpm)}.`,
      };
    case 'balance':
      return {
        word: 'HOLD BACK',
        reason: 'speed-above-balanced',
        why: `${speeds}, up to which ${question.assemblyId} is balanced`,
        next: `Lower the speed, or have ${question.assemblyId} balanced for it.`,
      };
    case 'spindle-maximum':
      return {
        word: 'HOLD BACK',
        reason: 'speed-above-spindle',
        why: `${speeds}, the maximum of ${question.spindleId}`,
        next: `Stay at or below ${rpmWords(governingSpeedRpm)}.`,
      };
  }
}

function noObjection({ pairing, question }: Known): Said {
  const deviation = pairing?.deviation;
  const why =
    deviation === undefined
      ? `${question.assemblyId} is within its permissible residual unbalance`
      : `${deviation.by} let ${question.assemblyId} go on by a deviation on record`;
  return { word: 'NO OBJECTION', reason: 'within', why, next: 'Keep to the limits of the machine and tool makers.' };
}
