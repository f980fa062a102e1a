// Courses of readings, loads, starts and ends of holds by chance, on two spindles: what a try-out and the rules are held to each other by.
import fc from 'fast-check';
import type { VibrationLimit } from '../../../shared/acts.ts';
import type { Draft as EntryDraft } from '../../../shared/entries.ts';
import type { RuleRow } from '../../../shared/rule-settings.ts';

export const BEGIN = Date.UTC(2026, 8, 1);
export const SPINDLES = ['S-1', 'S-2'];

export interface Declared {
  readonly limits: readonly VibrationLimit[];
  readonly rows: readonly RuleRow[];
}

/** Everything of an entry but its position; `nth` names the nth hold for a limit so far. */
export type Chance =
  | EntryDraft
  | { readonly kind: 'end'; readonly at: number; readonly act: string; readonly nth: number };

const spindle = fc.constantFrom(...SPINDLES);

export const step = fc.oneof(
  {
    weight: 30,
    arbitrary: fc.record({
      kind: fc.constant('summary' as const),
      spindleId: spindle,
      overallMmS: fc.constantFrom(1, 3.9, 4.3, 5, 5.5, 6.5, 6.5),
      share: fc.constantFrom(undefined, 0.2, 0.5, 0.6, 0.8),
      repeated: fc.integer({ min: 1, max: 8 }),
      speedRpm: fc.constantFrom(0, 12_000, 12_000, 12_010, 18_000),
      cutting: fc.constantFrom(undefined, undefined, undefined, true),
      waited: fc.constantFrom(undefined, 0, 0, 0, 200, 30_000, 900_000),
      device: fc.constantFrom('a', 'a', 'a', 'b'),
      wait: fc.constantFrom(1000, 15_000, 15_000, 20_000, 30_000, 60_000, 3_600_001),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant('load' as const),
      spindleId: spindle,
      assemblyId: fc.constantFrom(undefined, 'A-1', 'B-1'),
      wait: fc.constantFrom(1000, 60_000),
    }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('birth' as const), spindleId: spindle, wait: fc.nat(5000) }) },
  {
    weight: 3,
    arbitrary: fc.record({
      kind: fc.constant('end' as const),
      act: fc.constantFrom('void', 'void', 'release', 'deviate'),
      nth: fc.nat(6),
      wait: fc.nat(5000),
    }),
  },
);
export type Step = typeof step extends fc.Arbitrary<infer S> ? S : never;

export function chancesOf(steps: readonly Step[]): readonly Chance[] {
  let at = BEGIN;
  const repeated = steps.flatMap((one) => (one.kind === 'summary' ? Array<Step>(one.repeated).fill(one) : [one]));
  return repeated.map((one, index): Chance => {
    at += one.wait;
    const id = `e-${index}`;
    switch (one.kind) {
      case 'summary': {
        const { spindleId, overallMmS, share, speedRpm, cutting, waited } = one;
        const data = {
          spindleId,
          speedRpm,
          // No two alike, so that nothing looks stuck.
          overallMmS: overallMmS + (index % 7) * 0.001,
          ...(share === undefined ? {} : { synchronousMmS: overallMmS * share + (index % 5) * 0.001 }),
          ...(cutting === undefined ? {} : { cutting }),
        };
        const time = waited === undefined ? {} : { time: at - waited };
        return { kind: 'summary', at, id, device: `sensor-${one.device}-${spindleId}`, data, ...time };
      }
      case 'load': {
        const { spindleId, assemblyId } = one;
        const data =
          assemblyId === undefined
            ? { spindleId, action: 'unload' as const }
            : { spindleId, action: 'load' as const, assemblyId };
        return { kind: 'load', at, id, device: 'machine-1', data };
      }
      case 'birth':
        return {
          kind: 'birth',
          at,
          id,
          device: `sensor-a-${one.spindleId}`,
          time: at - 40,
          data: { kind: 'sensor', serves: [one.spindleId] },
        };
      case 'end':
        return { kind: 'end', at, act: one.act, nth: one.nth };
    }
  });
}
