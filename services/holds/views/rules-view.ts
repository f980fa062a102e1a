// What is tuned now and was before, and the floor as a try-out needs it.
import type { Instant } from '../../../shared/time.ts';
import { TRY_OUT_REASONS, type HoldBefore, type RulesView, type TryFacts } from '../../../shared/try-out.ts';
import type { Hold } from '../../../shared/holds.ts';
import { SETTING_DEFAULTS, type Floor } from '../../rules/index.ts';

export function rulesView({ ruleSets }: Pick<Floor, 'ruleSets'>): RulesView {
  return {
    defaults: { ...SETTING_DEFAULTS },
    sets: ruleSets.map((set) => structuredClone(set) as RulesView['sets'][number]),
  };
}

/** `days` back from `now`, ms. Of holds only those for a limit of a spindle, as far as the rules remember them. */
export function tryFacts(
  { spindles, holds }: Pick<Floor, 'spindles' | 'holds'>,
  now: Instant,
  backMs: number,
): TryFacts {
  const from = now - backMs;
  return {
    now,
    subjects: [...spindles.values()].map(({ spindleId, declaration }) => ({
      spindleId,
      machine: declaration?.machine,
      cell: declaration?.cell,
      interface: declaration?.interface,
      limits: declaration?.limits ?? [],
    })),
    before: [...holds.values()].flatMap((hold) => standingAt(hold, from)),
  };
}

function standingAt({ holdId, subject, reason, raisedAt, state, steps }: Hold, from: Instant): readonly HoldBefore[] {
  const known = TRY_OUT_REASONS.find((one) => one === reason);
  const ended = state === 'released' || state === 'void' ? steps.at(-1)?.at : undefined;
  if (known === undefined || subject.kind !== 'spindle' || raisedAt >= from || (ended ?? from) < from) return [];
  return [{ holdId, spindleId: subject.id, reason: known }];
}
