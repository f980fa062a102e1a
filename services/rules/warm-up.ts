// Whether a spindle has turned long enough after a rest: a cold one vibrates otherwise, and nothing is learned from it.
import type { Instant } from '../../shared/time.ts';
import type { SpindleLive } from './floor.ts';
import { REST_MS, TURNING_GAP_COUNTED_MS, WARM_UP_MS } from './limits.ts';

type Turning = Pick<SpindleLive, 'turnedAt' | 'turnedMs' | 'restedAtTurnedMs'>;

/** Of a reading while turning, before it is taken in. Before the first one nothing is known of a rest: it is not called cold. */
export function isCold({ turnedAt, turnedMs, restedAtTurnedMs }: Turning, at: Instant): boolean {
  if (turnedAt === undefined) return false;
  const gapMs = at - turnedAt;
  if (gapMs >= REST_MS) return true;
  return restedAtTurnedMs !== undefined && turnedMs + counted(gapMs) - restedAtTurnedMs < WARM_UP_MS;
}

const counted = (gapMs: number): number => Math.min(Math.max(gapMs, 0), TURNING_GAP_COUNTED_MS);

/** Takes in that it turned; standing or silent, nothing is added. */
export function takeTurning(live: Turning, at: Instant): void {
  if (live.turnedAt === undefined) {
    live.turnedAt = at;
    return;
  }
  const gapMs = at - live.turnedAt;
  if (gapMs >= REST_MS) live.restedAtTurnedMs = live.turnedMs;
  else live.turnedMs += counted(gapMs);
  live.turnedAt = Math.max(live.turnedAt, at);
}
