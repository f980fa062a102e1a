// Counting above a limit against its plain definition: the whole history looked through at every reading.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { LimitWatch } from '../../../services/rules/floor.ts';
import {
  CLEAR_SHARE,
  EVIDENCE_POSITIONS_MAX,
  PERSISTENCE_GAP_MAX_MS,
  PERSISTENCE_MS,
  PERSISTENCE_READINGS,
} from '../../../services/rules/limits.ts';
import { count, isAtRest, newWatch, persistsWith, type Judged } from '../../../services/rules/persistence.ts';
import { UNTUNED } from '../../../services/rules/settings.ts';

const LIMIT = 4;

/** The stay that the last reading ends: readings over the limit since the last clearing, unbroken by a long gap. */
function plainly(history: readonly Judged[]): boolean {
  let over: Judged[] = [];
  let fired = false;
  for (const reading of history) {
    if (reading.value < LIMIT * CLEAR_SHARE) {
      over = [];
      fired = false;
    } else if (reading.value > LIMIT) {
      const last = over.at(-1);
      if (last !== undefined && reading.at - last.at > PERSISTENCE_GAP_MAX_MS) over = [];
      over.push(reading);
      const first = over[0] ?? reading;
      const persists = over.length >= PERSISTENCE_READINGS && reading.at - first.at >= PERSISTENCE_MS;
      if (reading === history.at(-1)) return persists && !fired;
      if (persists) fired = true;
    }
  }
  return false;
}

test('counts as the definition says', () => {
  const step = fc.record({
    value: fc.constantFrom(3, 3.7, 3.9, 4, 4.1, 5),
    pause: fc.constantFrom(1000, 15_000, 40_000, PERSISTENCE_GAP_MAX_MS + 1),
  });
  fc.assert(
    fc.property(fc.array(step, { maxLength: 40 }), (steps) => {
      const watch: LimitWatch = newWatch();
      const history: Judged[] = [];
      let at = 0;
      steps.forEach(({ value, pause }, index) => {
        at += pause;
        const judged = { value, limit: LIMIT, at, position: index + 1 };
        history.push(judged);
        expect(persistsWith(watch, judged, UNTUNED)).toBe(plainly(history));
        const rests = isAtRest(watch, value, LIMIT);
        const before = structuredClone(watch);
        count(watch, judged, UNTUNED);
        // What is at rest may be left out: nothing comes of it.
        expect(rests && plainly(history)).toBe(false);
        expect(rests ? before : watch).toEqual(watch);
        expect(watch.positions.length).toBeLessThanOrEqual(EVIDENCE_POSITIONS_MAX);
      });
    }),
    { numRuns: 500 },
  );
});
