// The picture of the plant as the feed tells it: a snapshot, then changes with the next numbers. Pure; a gap is a value.
import type { FeedFrame } from '../shared/feed.ts';
import type { HoldView, IntakeView, SpindleRow } from '../shared/views.ts';

/** Ended holds are kept for the pages that show them, the newest of them. */
export const ENDED_HOLDS_KEPT_MAX = 200;

export interface Picture {
  readonly number: number;
  readonly plant: string;
  readonly zone: string;
  /** The plant's time at the last frame, ms UTC. */
  readonly now: number;
  readonly invented: boolean;
  /** The service can be reached over the network without TLS. */
  readonly inTheClear: boolean;
  readonly spindles: ReadonlyMap<string, SpindleRow>;
  readonly holds: ReadonlyMap<string, HoldView>;
  readonly intake: IntakeView;
  /** Ids of the holds that this frame brought or changed; all of them after a snapshot. */
  readonly changedHoldIds: readonly string[];
}

export type Folded =
  | { readonly kind: 'picture'; readonly picture: Picture }
  /** A frame is missing, or the first one was no snapshot: only a new snapshot helps. */
  | { readonly kind: 'gap'; readonly expected: number; readonly got: number };

/** The picture after a frame. It may take over and change the maps of the picture that it is given. */
export function fold(before: Picture | undefined, frame: FeedFrame): Folded {
  if (frame.frame === 'snapshot') return { kind: 'picture', picture: fromSnapshot(frame) };
  const expected = before === undefined ? 0 : before.number + 1;
  if (before === undefined || frame.number !== expected) return { kind: 'gap', expected, got: frame.number };
  const spindles = before.spindles as Map<string, SpindleRow>;
  for (const row of frame.spindles) spindles.set(row.spindleId, row);
  const holds = before.holds as Map<string, HoldView>;
  for (const hold of frame.holds) holds.set(hold.holdId, hold);
  if (frame.holds.length > 0) forgetOldest(holds);
  return {
    kind: 'picture',
    picture: {
      ...before,
      number: frame.number,
      now: frame.now,
      intake: frame.intake ?? before.intake,
      changedHoldIds: frame.holds.map((hold) => hold.holdId),
    },
  };
}

function fromSnapshot({ number, floor }: Extract<FeedFrame, { frame: 'snapshot' }>): Picture {
  return {
    number,
    plant: floor.plant,
    zone: floor.zone,
    now: floor.now,
    invented: floor.invented,
    inTheClear: floor.inTheClear ?? false,
    spindles: new Map(floor.spindles.map((row) => [row.spindleId, row])),
    holds: new Map(floor.holds.map((hold) => [hold.holdId, hold])),
    intake: floor.intake,
    changedHoldIds: floor.holds.map((hold) => hold.holdId),
  };
}

function forgetOldest(holds: Map<string, HoldView>): void {
  const ended = [...holds.values()].filter((hold) => !hold.open).sort((a, b) => b.changedAt - a.changedAt);
  for (const hold of ended.slice(ENDED_HOLDS_KEPT_MAX)) holds.delete(hold.holdId);
}

export function openHolds(picture: Picture): HoldView[] {
  return [...picture.holds.values()].filter((hold) => hold.open);
}
