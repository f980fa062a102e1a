// What of a stretch of the journal belongs in a plant's month: holds and their steps, silence, checks, corrections, limits, forecasts.
import { evaluateBenchTest } from '../../shared/bench-health/index.ts';
import type { LimitAhead } from '../../shared/ahead.ts';
import type { Cause } from '../../shared/cause-words.ts';
import type { Entry, Position } from '../../shared/entries.ts';
import type { Hold, HoldStep } from '../../shared/holds.ts';
import type { Outcome, SubjectState } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import type { Stretch } from '../journal/index.ts';

interface At {
  readonly position: Position;
  readonly at: Instant;
}

export type StepKept = Pick<
  HoldStep,
  'state' | 'at' | 'by' | 'note' | 'cause' | 'deviation' | 'askedBy' | 'found' | 'movedTo'
>;

export type Happening =
  | (At & {
      readonly kind: 'hold';
      readonly hold: Pick<Hold, 'holdId' | 'subject' | 'reason' | 'raisedAt'>;
      readonly steps: readonly StepKept[];
      readonly named: Cause | undefined;
    })
  | (At & { readonly kind: 'step'; readonly holdId: string; readonly step: StepKept })
  | (At & { readonly kind: 'named'; readonly holdId: string; readonly named: Cause | undefined })
  | (At & { readonly kind: 'state'; readonly spindleId: string; readonly state: SubjectState })
  | (At & {
      readonly kind: 'check';
      readonly bench: string;
      readonly testId: string | undefined;
      readonly passed: boolean;
    })
  | (At & { readonly kind: 'correction'; readonly assemblyId: string; readonly buildId: string })
  | (At & {
      readonly kind: 'result';
      readonly assemblyId: string;
      readonly buildId: string;
      readonly verdict: Verdict | undefined;
    })
  | (At & {
      readonly kind: 'limits';
      readonly spindleId: string;
      readonly by: string;
      readonly why: string | undefined;
      readonly limits: number;
      readonly told: string;
    })
  | (At & { readonly kind: 'rules'; readonly by: string; readonly why: string; readonly version: number })
  | (At & { readonly kind: 'ahead'; readonly spindleId: string; readonly ahead: Readonly<LimitAhead> });

export type HappeningOf<K extends Happening['kind']> = Extract<Happening, { kind: K }>;

/** Of a measurement after a correction, as the rules took it. */
export type Verdict = 'within' | 'exceeds';

/** In the order of the journal; most stretches hold nothing of it. `holdOf`: whose hold it is, from what was read before. */
export function happeningsOf({ entries, outcomes }: Stretch, holdOf: HoldOf): Happening[] {
  const byCause = new Map<Position, Outcome[]>();
  for (const outcome of outcomes) {
    if (outcome.kind === 'reading-features') continue;
    const beside = byCause.get(outcome.cause);
    if (beside === undefined) byCause.set(outcome.cause, [outcome]);
    else beside.push(outcome);
  }
  const found: Happening[] = [];
  const raised = new Map<string, HeldFor>();
  const known: HoldOf = (holdId) => raised.get(holdId) ?? holdOf(holdId);
  for (const entry of entries) {
    const beside = byCause.get(entry.position) ?? NONE;
    for (const outcome of beside) {
      if (outcome.kind === 'hold-raised') raised.set(outcome.hold.holdId, outcome.hold);
      const told = ofOutcome(entry, outcome);
      if (told !== undefined) found.push(told);
    }
    const told = ofEntry(entry, beside, known);
    if (told !== undefined) found.push(told);
  }
  return found;
}

const NONE: readonly Outcome[] = [];

export type HeldFor = Pick<Hold, 'subject' | 'reason'>;
export type HoldOf = (holdId: string) => HeldFor | undefined;

function ofOutcome({ position, at }: Entry, outcome: Outcome): Happening | undefined {
  switch (outcome.kind) {
    case 'hold-raised': {
      const { holdId, subject, reason, raisedAt, steps, findings } = outcome.hold;
      const named = findings?.at(-1)?.named;
      return {
        kind: 'hold',
        position,
        at,
        hold: { holdId, subject, reason, raisedAt },
        steps: steps.map(stepKept),
        named,
      };
    }
    case 'hold-stepped':
      return { kind: 'step', position, at, holdId: outcome.holdId, step: stepKept(outcome.step) };
    case 'cause-weighed':
      return { kind: 'named', position, at, holdId: outcome.holdId, named: outcome.finding.named };
    case 'state-changed':
      if (outcome.subject.kind !== 'spindle') return undefined;
      return { kind: 'state', position, at, spindleId: outcome.subject.id, state: outcome.state };
    case 'limit-ahead':
      return { kind: 'ahead', position, at, spindleId: outcome.spindleId, ahead: outcome.ahead };
    case 'reading-features':
    case 'hold-repeated':
    case 'act-refused':
    case 'gate-answered':
    case 'severity-changed':
    case 'hold-escalated':
    case 'override-kept':
    case 'wave-asked':
    case 'remarked':
      return undefined;
  }
}

function stepKept({ state, at, by, note, cause, deviation, askedBy, found, movedTo }: HoldStep): StepKept {
  return {
    state,
    at,
    by,
    cause,
    ...(note === undefined ? {} : { note }),
    ...(deviation === undefined ? {} : { deviation }),
    ...(askedBy === undefined ? {} : { askedBy }),
    ...(found === undefined ? {} : { found }),
    ...(movedTo === undefined ? {} : { movedTo }),
  };
}

function ofEntry(entry: Entry, outcomes: readonly Outcome[], holdOf: HoldOf): Happening | undefined {
  const { position, at } = entry;
  switch (entry.kind) {
    case 'proof':
      return { kind: 'check', position, at, bench: entry.device, testId: undefined, passed: !missed(outcomes, holdOf) };
    case 'test': {
      const { verdict } = evaluateBenchTest(entry.data);
      if (verdict !== 'passed' && verdict !== 'failed') return undefined;
      return {
        kind: 'check',
        position,
        at,
        bench: entry.device,
        testId: entry.data.testId,
        passed: verdict === 'passed',
      };
    }
    case 'correction':
    case 'correction-recorded': {
      const { assemblyId, buildId } = entry.data;
      return { kind: 'correction', position, at, assemblyId, buildId };
    }
    case 'result': {
      const { assemblyId, buildId } = entry.data;
      return { kind: 'result', position, at, assemblyId, buildId, verdict: verdictOf(assemblyId, outcomes, holdOf) };
    }
    case 'spindle-declared': {
      const { spindleId, limits, zones, why } = entry.data;
      const told = JSON.stringify([limits, zones]);
      return { kind: 'limits', position, at, spindleId, by: entry.actor.name, why, limits: limits.length, told };
    }
    case 'rules-declared': {
      const { why, rules } = entry.data;
      return { kind: 'rules', position, at, by: entry.actor.name, why, version: rules.version };
    }
    case 'analysed':
    case 'answering-declared':
    case 'ask-wave':
    case 'birth':
    case 'build':
    case 'doubt-lifted':
    case 'hold-act':
    case 'life':
    case 'load':
    case 'machine':
    case 'notice-try':
    case 'query':
    case 'rates-declared':
    case 'reference-declared':
    case 'rejected':
    case 'retried':
    case 'state':
    case 'summary':
    case 'tick':
    case 'wave':
    case 'work-planned':
      return undefined;
  }
}

/** A check that the bench did not pass raises its hold, or is told to the one that stands. */
function missed(outcomes: readonly Outcome[], holdOf: HoldOf): boolean {
  return outcomes.some((outcome) => {
    if (outcome.kind === 'hold-raised') return outcome.hold.reason === 'bench-in-doubt';
    return outcome.kind === 'hold-repeated' && holdOf(outcome.holdId)?.reason === 'bench-in-doubt';
  });
}

/** A measurement that exceeds raises the assembly's hold or repeats it; one that passes ends it. */
function verdictOf(assemblyId: string, outcomes: readonly Outcome[], holdOf: HoldOf): Verdict | undefined {
  for (const outcome of outcomes) {
    if (outcome.kind !== 'hold-raised' && outcome.kind !== 'hold-repeated' && outcome.kind !== 'hold-stepped') continue;
    const { subject, reason } = outcome.kind === 'hold-raised' ? outcome.hold : (holdOf(outcome.holdId) ?? NOBODY);
    if (reason !== 'residual-exceeds' || subject.id !== assemblyId) continue;
    if (outcome.kind !== 'hold-stepped') return 'exceeds';
    if (outcome.step.state === 'released') return 'within';
  }
  return undefined;
}

const NOBODY = { subject: { kind: 'plant', id: '' }, reason: undefined } as const;
