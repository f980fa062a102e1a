// What must hold for any history: the same entries, the same holds; nothing ends by itself; everything stays bounded.
import { isDeepStrictEqual } from 'node:util';
import { deserialize, serialize } from 'node:v8';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEPENDENTS_MAX, HOLD_REASONS, isOpen, type Hold } from '../../../shared/holds.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import { MAY_ACT } from '../../../shared/rights.ts';
import { baseLayer, conditionMet, decide, emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';
import { histories, live, type Step } from './histories.ts';
import { expectEqualFloor, expectSameFloor } from './same-floor.ts';

const RUNS = { numRuns: 150 };

test('the histories meet every reason, every way to end, and every kind of outcome', () => {
  const reasons = new Set<string>();
  const ends = new Set<string>();
  const kinds = new Set<string>();
  for (const history of fc.sample(histories, { numRuns: 200, seed: 7 })) {
    for (const { outcomes } of live(history).steps) {
      for (const outcome of outcomes) {
        kinds.add(outcome.kind);
        if (outcome.kind === 'hold-raised') reasons.add(outcome.hold.reason);
        if (outcome.kind === 'hold-stepped') ends.add(`${outcome.step.state} ${outcome.step.deviation === true}`);
      }
    }
  }
  expect([...reasons].toSorted()).toEqual([...HOLD_REASONS].toSorted());
  expect([...ends].toSorted()).toEqual([
    'checked false',
    'released false',
    'released true',
    'taken false',
    'void false',
  ]);
  expect(kinds.size).toBe(11);
});

test('the same entries make the same outcomes and the same floor', () => {
  fc.assert(
    fc.property(histories, (history) => {
      const one = live(history);
      const two = live(history);
      expect(two.steps).toEqual(one.steps);
      expectSameFloor(two.floor, one.floor);
    }),
    RUNS,
  );
});

test('deciding changes nothing', () => {
  fc.assert(
    fc.property(histories, (history) => {
      live(history, (floor, { entry, outcomes }) => {
        const before = structuredClone(floor);
        expect(decide(floor, entry)).toEqual(outcomes);
        // There are thousands of figures: this compares them as a whole.
        expect(isDeepStrictEqual(floor, before)).toBe(true);
      });
    }),
    { numRuns: 40 },
  );
});

test('folding what was recorded gives the floor of deciding live, from any snapshot on', () => {
  fc.assert(
    fc.property(histories, fc.nat(120), (history, cut) => {
      const { floor, steps } = live(history);
      let again = emptyFloor('test');
      steps.forEach(({ entry, outcomes }, index) => {
        // As a restart would find it: a snapshot's bytes, and outcomes as text.
        if (index === cut) again = deserialize(serialize(again)) as Floor;
        again = evolve(again, entry, JSON.parse(JSON.stringify(outcomes)) as typeof outcomes);
      });
      expectEqualFloor(again, floor);
    }),
    RUNS,
  );
});

/** Another cause was named, and another hold stands for it from the same entry on. */
function isMoved({ reason }: Hold, note: string | undefined, outcomes: readonly Outcome[]): boolean {
  return (
    reason === 'vibration-unexplained' &&
    outcomes.some((one) => one.kind === 'cause-weighed' && note?.includes(`hold ${one.holdId} stands for it`) === true)
  );
}

/** Why an end is not justified; undefined where a condition came about, or somebody with the right acted on this hold. */
function unjustified(seen: Floor, { entry, outcomes }: Step): readonly string[] {
  return outcomes.flatMap((outcome) => {
    if (outcome.kind !== 'hold-stepped' || !['released', 'void'].includes(outcome.step.state)) return [];
    const hold = seen.holds.get(outcome.holdId);
    if (hold === undefined) return [`${outcome.holdId} is not known`];
    const met = hold.conditions.some((condition) => conditionMet(baseLayer(seen), hold, condition));
    if (isMoved(hold, outcome.step.note, outcomes)) return [];
    if (entry.kind !== 'hold-act' || entry.data.holdId !== hold.holdId)
      return met ? [] : [`${hold.reason} ended at ${entry.position} by nothing`];
    const { act } = entry.data;
    // A check may be what a sensor that speaks well again still needed.
    if (act === 'check' && met) return [];
    const may: readonly string[] = MAY_ACT[act];
    const asActed = outcome.step.state === 'void' ? 'void' : outcome.step.deviation === true ? 'deviate' : 'release';
    return (act === asActed || (act === 'confirm' && asActed === 'deviate')) &&
      entry.actor.roles.some((role) => may.includes(role))
      ? []
      : [`${act} ended ${hold.reason}`];
  });
}

test('no hold ends without one of its conditions or an act by somebody with the right', () => {
  fc.assert(
    fc.property(histories, (history) => {
      const seen = emptyFloor('test');
      const wrong = live(history).steps.flatMap((step) => {
        evolve(seen, step.entry, step.outcomes);
        return unjustified(seen, step);
      });
      expect(wrong).toEqual([]);
    }),
    RUNS,
  );
});

test('one open hold per subject and reason, ids from their cause, dependents bounded, steps in order', () => {
  fc.assert(
    fc.property(histories, (history) => {
      const { floor } = live(history);
      const open = new Set<string>();
      for (const hold of floor.holds.values()) {
        expect(hold.holdId).toMatch(new RegExp(`^H-${hold.steps[0]?.cause}-\\d+$`));
        expect(hold.dependents.length).toBeLessThanOrEqual(DEPENDENTS_MAX);
        expect(hold.steps[0]?.state).toBe('raised');
        expect(hold.steps.at(-1)?.state).toBe(hold.state);
        const causes = hold.steps.map((step) => step.cause);
        expect(causes).toEqual(causes.toSorted((a, b) => a - b));
        if (!isOpen(hold)) continue;
        const key = `${hold.subject.kind}/${hold.subject.id} ${hold.reason}`;
        expect(open.has(key), key).toBe(false);
        open.add(key);
      }
      const listed = [...floor.openHolds.values()].flat();
      expect(listed).toHaveLength(open.size);
    }),
    RUNS,
  );
});

test('no open hold has a condition that came about, after any entry', () => {
  fc.assert(
    fc.property(histories, (history) => {
      const { floor } = live(history);
      const layer = baseLayer(floor);
      for (const hold of floor.holds.values()) {
        if (!isOpen(hold)) continue;
        const met = hold.conditions.filter((condition) => conditionMet(layer, hold, condition));
        expect(met, `${hold.holdId} ${hold.reason}`).toEqual([]);
      }
    }),
    RUNS,
  );
});

test('what is kept beside a pairing is what would be looked up', () => {
  fc.assert(
    fc.property(histories, (history) => {
      const { floor } = live(history);
      for (const spindle of floor.spindles.values()) {
        const { loaded } = spindle;
        if (loaded === undefined) continue;
        expect(floor.assemblies.get(loaded.assemblyId)?.loadedIn).toBe(spindle.spindleId);
        const held = [`spindle/${spindle.spindleId}`, `assembly/${loaded.assemblyId}`].some(
          (key) => (floor.openHolds.get(key) ?? []).length > 0,
        );
        expect(spindle.onHold).toBe(held);
      }
    }),
    RUNS,
  );
});
