// The floor as it was at a position of the journal: the nearest snapshot before, and what was recorded since. Nothing is decided.
import type { Entry, Position } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Journal, Stretch } from '../journal/index.ts';
import { decide, emptyFloor, evolve, RULES_VERSION, type Floor } from '../rules/index.ts';
import { floorFromBytes } from './floor-snapshot.ts';

export interface FloorThrough {
  readonly floor: Floor;
  /** Of the snapshot that spared the entries before; undefined without one. */
  readonly snapshotPosition: Position | undefined;
}

export interface FloorWanted {
  readonly journal: Pick<Journal, 'read' | 'latestSnapshot'>;
  readonly plant: string;
  /** The last entry that is folded; the journal's last where absent. */
  readonly through?: Position;
  readonly progress?: (position: Position) => void;
}

export async function floorThrough({ journal, plant, through, progress }: FloorWanted): Promise<FloorThrough> {
  const snapshot = await journal.latestSnapshot(RULES_VERSION, through);
  let floor = snapshot === undefined ? emptyFloor(plant) : floorFromBytes(snapshot.body);
  if (through === undefined || floor.position < through) {
    for await (const stretch of journal.read(floor.position + 1, through)) {
      floor = foldStretch(floor, stretch);
      progress?.(floor.position);
    }
  }
  return { floor, snapshotPosition: snapshot?.position };
}

/** Outcomes lie in the order of their causes, so entries and outcomes are walked side by side. */
function foldStretch(floor: Floor, { entries, outcomes }: Stretch): Floor {
  let folded = floor;
  let next = 0;
  for (const entry of entries) {
    const first = next;
    while (outcomes[next]?.cause === entry.position) next += 1;
    folded = evolve(folded, entry, outcomes.slice(first, next));
  }
  if (next < outcomes.length)
    throw new Error(`an outcome of ${outcomes[next]?.cause} hangs on no entry of its stretch`);
  return folded;
}

/** A rule that fails on an entry must not stop the plant: the same message would come again for ever. */
export function decidedOrRemarked(floor: Floor, entry: Entry): readonly Outcome[] {
  try {
    return decide(floor, entry);
  } catch (failure) {
    const words = failure instanceof Error ? failure.message : String(failure);
    const subject = { kind: 'plant', id: floor.plant } as const;
    return [
      { cause: entry.position, kind: 'remarked', subject, remark: `the rules failed on ${entry.kind}: ${words}` },
    ];
  }
}
