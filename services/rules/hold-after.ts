// What one outcome makes of one hold: the fold of a hold by itself, for the floor and for whoever follows holds without one.
import { FINDINGS_PER_HOLD_MAX, type CauseFinding } from '../../shared/causes.ts';
import { DEPENDENTS_MAX, ESCALATIONS_PER_HOLD_MAX, type Hold } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';

/** Outcomes that say something of a hold. */
export type HoldOutcome = Extract<
  Outcome,
  { kind: 'hold-raised' | 'hold-repeated' | 'hold-stepped' | 'hold-escalated' | 'cause-weighed' }
>;

export function isOfHold(outcome: Outcome): outcome is HoldOutcome {
  switch (outcome.kind) {
    case 'hold-raised':
    case 'hold-repeated':
    case 'hold-stepped':
    case 'hold-escalated':
    case 'cause-weighed':
      return true;
    case 'reading-features':
    case 'state-changed':
    case 'gate-answered':
    case 'severity-changed':
    case 'limit-ahead':
    case 'override-kept':
    case 'act-refused':
    case 'wave-asked':
    case 'remarked':
      return false;
  }
}

export function holdIdOf(outcome: HoldOutcome): string {
  return outcome.kind === 'hold-raised' ? outcome.hold.holdId : outcome.holdId;
}

/** The hold after the outcome; undefined where nothing is known of it, and the very same where the outcome changes nothing. */
export function holdAfter(hold: Hold | undefined, outcome: HoldOutcome): Hold | undefined {
  if (outcome.kind === 'hold-raised') return outcome.hold;
  if (hold === undefined) return undefined;
  switch (outcome.kind) {
    case 'hold-repeated':
      if (hold.dependents.length >= DEPENDENTS_MAX) return hold;
      return { ...hold, dependents: [...hold.dependents, outcome.cause] };
    case 'cause-weighed':
      return { ...hold, findings: withFinding(hold, outcome.finding) };
    case 'hold-escalated':
      return {
        ...hold,
        escalations: [...(hold.escalations ?? []), outcome.escalation].slice(-ESCALATIONS_PER_HOLD_MAX),
      };
    case 'hold-stepped':
      return { ...hold, state: outcome.step.state, steps: [...hold.steps, outcome.step] };
  }
}

/** The first stays, for it is what raised the hold; the oldest of the others goes. */
function withFinding({ findings = [] }: Hold, finding: CauseFinding): readonly CauseFinding[] {
  const kept = findings.length < FINDINGS_PER_HOLD_MAX ? findings : findings.toSpliced(1, 1);
  return [...kept, finding];
}
