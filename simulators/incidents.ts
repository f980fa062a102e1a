// Small things that go wrong now and then in ordinary life, and are put right within the hour: drawn from the seed per shift.
import { MILLISECONDS_A_MINUTE } from '../shared/time.ts';
import type { Overlay } from './overlay.ts';
import type { Plant } from './plant.ts';
import { prngOf } from './prng.ts';
import { unmeasuredChange, wrongPairing } from './scenes.ts';
import { SHIFT_MS } from './tool-room.ts';

/** Shifts between two of a kind, on average. */
const SHIFTS_PER_WRONG_PAIRING = 60;
const SHIFTS_PER_UNMEASURED_CHANGE = 60;

/** The same for the past and the live run, so that one goes on where the other ends. */
export function incidentsIn(plant: Plant, shift: number): readonly Overlay[] {
  const prng = prngOf(plant.seed, 'incident', shift);
  const at = shift * SHIFT_MS + prng.between(60, 380) * MILLISECONDS_A_MINUTE;
  const spindle = prng.pick(plant.spindles.filter((one) => one.interface === 'HSK-A63'));
  const dice = prng.next();
  const minutes = MILLISECONDS_A_MINUTE;
  if (dice < 1 / SHIFTS_PER_WRONG_PAIRING) {
    return [wrongPairing(plant, { spindle, loadAt: Math.round(at), unloadAt: Math.round(at + 4 * minutes) })];
  }
  if (dice < 1 / SHIFTS_PER_WRONG_PAIRING + 1 / SHIFTS_PER_UNMEASURED_CHANGE) {
    return [
      unmeasuredChange(plant, {
        spindle,
        tag: `C${shift}`,
        changedAt: Math.round(at - 6 * minutes),
        loadAt: Math.round(at),
        unloadAt: Math.round(at + 5 * minutes),
        measuredAt: Math.round(at + 21 * minutes),
      }),
    ];
  }
  return [];
}
