// What is laid over ordinary life: spindles borrowed from it for a while, more to be told, labelled faults.
import type { Instant } from '../shared/time.ts';
import type { PlannedEvent } from './events.ts';
import type { Fault } from './faults.ts';
import type { LoadPlan } from './shift.ts';

export interface Borrow {
  readonly spindleId: string;
  readonly from: Instant;
  readonly to: Instant;
  /** What is clamped meanwhile, in order, within from and to. */
  readonly loads: readonly LoadPlan[];
}

export interface Overlay {
  readonly borrows: readonly Borrow[];
  readonly events: readonly PlannedEvent[];
  readonly faults: readonly Fault[];
  /** How ordinary loads are run otherwise than planned. */
  readonly reshaped?: (load: LoadPlan) => LoadPlan;
}

/** A load left with less time than this is not worth clamping. */
const SHORTEST_LOAD_MS = 3 * 60_000;

/** The loads of one spindle, in order, with the borrowed time given over. */
export function withBorrow(loads: readonly LoadPlan[], borrow: Borrow): LoadPlan[] {
  const before: LoadPlan[] = [];
  const after: LoadPlan[] = [];
  for (const load of loads) {
    if (load.loadAt < borrow.from) before.push({ ...load, unloadAt: Math.min(load.unloadAt, borrow.from) });
    // Clamped again after the interruption, in another seat: turned by a quarter against the first.
    const rest = load.loadAt < borrow.from ? { ...load, offsetUm: quarterTurned(load.offsetUm) } : load;
    const loadAt = Math.max(load.loadAt, borrow.to);
    if (load.unloadAt - loadAt >= (load.loadAt < borrow.to ? SHORTEST_LOAD_MS : 0) && load.unloadAt > borrow.to) {
      after.push({ ...rest, loadAt });
    }
  }
  return [...before, ...borrow.loads, ...after];
}

function quarterTurned({ x, y }: LoadPlan['offsetUm']): LoadPlan['offsetUm'] {
  return { x: -y, y: x };
}
