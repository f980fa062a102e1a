// Raw windows that a hold keeps from being dropped: what was measured around its raising and its release, and its evidence.
import { setImmediate as breath } from 'node:timers/promises';
import type { Position } from '../../shared/entries.ts';
import { isOpen, type Hold } from '../../shared/holds.ts';
import type { Journal } from '../journal/index.ts';

/** Of the hold's spindle: the nearest ones before it was raised, and the first after. */
export const PINNED_BEFORE = 4;
export const PINNED_AFTER = 4;
/** The same around each release. */
export const PINNED_AT_RELEASE = 2;
/** So many holds are looked at before messages have their turn again. */
const HOLDS_AT_ONCE = 16;

type WavesAsked = Pick<Journal, 'wavesOf' | 'wavesBehind'>;

export interface Pins {
  /** Windows to the holds that keep them. */
  readonly byOpen: ReadonlyMap<Position, readonly string[]>;
  readonly byEnded: ReadonlyMap<Position, readonly string[]>;
}

export async function pinsOf(journal: WavesAsked, holds: readonly Hold[]): Promise<Pins> {
  const byOpen = new Map<Position, string[]>();
  const byEnded = new Map<Position, string[]>();
  /** Most spindles never sent a window. */
  const haveWindows = new Map<string, boolean>();
  for (const [index, hold] of holds.entries()) {
    const spindleId = spindleOf(hold);
    if (spindleId === undefined) continue;
    const known = haveWindows.get(spindleId) ?? (await journal.wavesOf({ spindleId, from: 0, limit: 1 })).length > 0;
    haveWindows.set(spindleId, known);
    if (!known) continue;
    const pins = isOpen(hold) ? byOpen : byEnded;
    for (const position of await pinnedBy(journal, hold, spindleId)) {
      const others = pins.get(position);
      if (others === undefined) pins.set(position, [hold.holdId]);
      else others.push(hold.holdId);
    }
    if (index % HOLDS_AT_ONCE === HOLDS_AT_ONCE - 1) await breath();
  }
  return { byOpen, byEnded };
}

/** By window of a spindle the holds that keep it. */
export async function holdsPinning(
  journal: WavesAsked,
  holds: readonly Hold[],
  spindleId: string,
): Promise<Readonly<Record<Position, readonly string[]>>> {
  const { byOpen, byEnded } = await pinsOf(
    journal,
    holds.filter((hold) => spindleOf(hold) === spindleId),
  );
  const found: Record<Position, readonly string[]> = {};
  for (const [position, holdIds] of [...byOpen, ...byEnded]) found[position] = [...(found[position] ?? []), ...holdIds];
  return found;
}

/** Whose windows a hold is about; a hold on an assembly is about the spindle that its evidence names. */
export function spindleOf({ subject, evidence }: Hold): string | undefined {
  return subject.kind === 'spindle' ? subject.id : evidence.spindleId;
}

/** At most PINNED_BEFORE + PINNED_AFTER, as many as its evidence has, and twice PINNED_AT_RELEASE for each release. */
async function pinnedBy(journal: WavesAsked, hold: Hold, spindleId: string): Promise<ReadonlySet<Position>> {
  const pinned = new Set<Position>();
  const add = (positions: readonly Position[]): void => {
    for (const position of positions) pinned.add(position);
  };
  add(await journal.wavesBehind(hold.evidence.positions));
  for (const { state, cause } of hold.steps) {
    if (state !== 'raised' && state !== 'released') continue;
    const [before, after] = state === 'raised' ? [PINNED_BEFORE, PINNED_AFTER] : [PINNED_AT_RELEASE, PINNED_AT_RELEASE];
    add(await journal.wavesOf({ spindleId, before: cause, limit: before }));
    add(await journal.wavesOf({ spindleId, from: cause, limit: after }));
  }
  return pinned;
}
