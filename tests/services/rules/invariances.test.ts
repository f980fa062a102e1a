// What must change nothing, and what may only make things worse: over drawn assemblies, courses of readings, and a plant's own day.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import type { GateWord } from '../../../shared/gate.ts';
import type { Draft, Entry } from '../../../shared/entries.ts';
import type { Hold } from '../../../shared/holds.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import { decide, emptyFloor, evolve, gate, type Floor, type JudgementKind } from '../../../services/rules/index.ts';

const START = Date.UTC(2026, 10, 24, 6);
const SPINDLE = 'S-01';
const ASSEMBLY = 'A-0001';
const BENCH = 'bench-1';

interface Ran {
  readonly floor: Floor;
  readonly outcomes: readonly Outcome[];
}

function run(drafts: readonly Draft[]): Ran {
  let floor = emptyFloor('p1');
  const outcomes: Outcome[] = [];
  for (const draft of drafts) {
    const entry = { ...draft, position: floor.position + 1 } as Entry;
    const said = decide(floor, entry);
    floor = evolve(floor, entry, said);
    outcomes.push(...said);
  }
  return { floor, outcomes };
}

const holdsOf = ({ floor }: Ran): readonly Hold[] => [...floor.holds.values()];

const declared = (limitMmS: number): Draft => ({
  kind: 'spindle-declared',
  at: START,
  id: 'd-1',
  actor: { name: 'eva', roles: ['engineer'] },
  data: {
    spindleId: SPINDLE,
    machine: 'Mill 1 (invented)',
    cell: 'Cell 1',
    maxSpeedRpm: 30_000,
    limits: [{ quantity: 'overall', fromSpeedRpm: 1, toSpeedRpm: 30_000, limitMmS, source: 'invented' }],
  },
});

interface Balance {
  readonly massKg: number;
  readonly serviceSpeedRpm: number;
  readonly gradeMmS: number;
  readonly planesGmm: readonly number[];
  readonly smallestGmm: number;
}

/** Everything that is measured in g·mm or kg times a factor: nothing but the unit of mass is another then. */
function balanced({ massKg, serviceSpeedRpm, gradeMmS, planesGmm, smallestGmm }: Balance, factor = 1): Draft[] {
  const device = BENCH;
  const assembly = { assemblyId: ASSEMBLY, buildId: 'B-1' };
  const parts = [{ role: 'holder' as const, name: 'holder (invented)', markedMaxSpeedRpm: 40_000 }];
  const meant = { massKg: massKg * factor, serviceSpeedRpm, gradeMmS };
  const planes = planesGmm.map((residualGmm, place) => ({
    name: `P${place + 1}`,
    residualGmm: residualGmm * factor,
    angleDeg: 30 + 50 * place,
  }));
  const error = { smallestAchievableGmm: smallestGmm * factor };
  return [
    { kind: 'build', at: START + 1000, device, id: 'b-1', data: { ...assembly, ...meant, parts } },
    {
      kind: 'result',
      at: START + 2000,
      device,
      id: 'r-1',
      data: { ...assembly, runId: 'R-1', stage: 'check', frame: 'machine', measuredAtRpm: 1100, planes, error },
    },
  ] as Draft[];
}

/** About what is permissible, so that every answer is met: 1000·G·m/ω (ISO 21940-11). */
const balance: fc.Arbitrary<Balance> = fc
  .record({
    massKg: fc.double({ min: 0.2, max: 8, noNaN: true }),
    serviceSpeedRpm: fc.integer({ min: 4000, max: 30_000 }),
    gradeMmS: fc.constantFrom(1, 2.5, 6.3, 16),
    shares: fc.array(fc.double({ min: 0.05, max: 1.5, noNaN: true }), { minLength: 1, maxLength: 2 }),
    smallest: fc.double({ min: 0.01, max: 0.3, noNaN: true }),
  })
  .map(({ shares, smallest, ...meant }) => {
    const permissibleGmm = (1000 * meant.gradeMmS * meant.massKg) / ((2 * Math.PI * meant.serviceSpeedRpm) / 60);
    const planesGmm = shares.map((share) => (share * permissibleGmm) / shares.length);
    return { ...meant, planesGmm, smallestGmm: smallest * permissibleGmm };
  });

const RANK: Readonly<Record<GateWord, number>> = { 'NO OBJECTION': 0, 'MEASURE FIRST': 1, 'HOLD BACK': 2 };

const VERDICT_RANK: Readonly<Record<JudgementKind, number>> = {
  within: 0,
  undecided: 1,
  'cannot-judge': 1,
  'cannot-be-shown': 1,
  exceeds: 2,
};

/** Of the measurement that is in force. */
function verdictOf({ floor }: Ran): number {
  const kind = floor.assemblies.get(ASSEMBLY)?.measurements.at(-1)?.judgement.kind;
  return VERDICT_RANK[kind ?? 'exceeds'];
}

test('more unbalance is never more acceptable: not at the gate, at any speed, not in the verdict, and not for a hold', () => {
  let worse = 0;
  let judgedWorse = 0;
  fc.assert(
    fc.property(
      balance,
      fc.double({ min: 1, max: 10, noNaN: true }),
      fc.integer({ min: 1000, max: 30_000 }),
      (one, times, speedRpm) => {
        const more = { ...one, planesGmm: one.planesGmm.map((gmm) => gmm * times) };
        const [less, greater] = [one, more].map((each) => run([declared(4), ...balanced(each)]));
        if (less === undefined || greater === undefined) return;
        const asked = { spindleId: SPINDLE, assemblyId: ASSEMBLY, speedRpm };
        const [before, after] = [gate(less.floor, asked).word, gate(greater.floor, asked).word];
        expect(RANK[after]).toBeGreaterThanOrEqual(RANK[before]);
        expect(holdsOf(greater).length).toBeGreaterThanOrEqual(holdsOf(less).length);
        expect(verdictOf(greater)).toBeGreaterThanOrEqual(verdictOf(less));
        if (RANK[after] > RANK[before]) worse += 1;
        if (verdictOf(greater) > verdictOf(less)) judgedWorse += 1;
      },
    ),
    { numRuns: 500 },
  );
  expect(worse).toBeGreaterThan(20);
  expect(judgedWorse).toBeGreaterThan(20);
});

test('another unit of mass changes nothing: the same holds and answers, amounts times the factor', () => {
  let held = 0;
  fc.assert(
    fc.property(balance, fc.constantFrom(1 / 16, 1 / 2, 2, 8), (one, factor) => {
      // A power of two, so that no digit is rounded otherwise. In whole assemblies the mass stays below what is remarked.
      const plain = run([declared(4), ...balanced(one)]);
      const scaled = run([declared(4), ...balanced(one, factor)]);
      const asked = { spindleId: SPINDLE, assemblyId: ASSEMBLY };
      expect(gate(scaled.floor, asked).word).toBe(gate(plain.floor, asked).word);
      expect(holdsOf(scaled).map(({ holdId, reason, state }) => [holdId, reason, state])).toEqual(
        holdsOf(plain).map(({ holdId, reason, state }) => [holdId, reason, state]),
      );
      for (const [place, { evidence }] of holdsOf(plain).entries()) {
        const amounts = evidence.clauses.filter((clause) => clause.unit === 'g.mm');
        const others = holdsOf(scaled)[place]?.evidence.clauses.filter((clause) => clause.unit === 'g.mm') ?? [];
        expect(others.map(({ measured, limit }) => [measured, limit])).toEqual(
          amounts.map(({ measured, limit }) => [measured * factor, limit * factor]),
        );
        held += amounts.length;
      }
    }),
    { numRuns: 300 },
  );
  expect(held).toBeGreaterThan(0);
});

const reading = (at: number, speedRpm: number, mmS: number): Draft => ({
  kind: 'summary',
  at,
  device: 'sensor-01',
  id: `s-${at}`,
  time: at - 100,
  data: { spindleId: SPINDLE, speedRpm, overallMmS: mmS, synchronousMmS: 0.8 * mmS, cutting: false, steady: true },
});

test('more vibration is never more acceptable: what is held at a value is held at more, and no later', () => {
  let held = 0;
  const course = fc.array(fc.double({ min: 2, max: 6, noNaN: true }), { minLength: 12, maxLength: 60 });
  fc.assert(
    fc.property(course, fc.double({ min: 1, max: 5, noNaN: true }), (values, times) => {
      const at = (factor: number): Ran =>
        run([declared(3), ...values.map((mmS, n) => reading(START + 60_000 * (n + 1), 12_000, mmS * factor))]);
      const first = (ran: Ran): number =>
        holdsOf(ran).find((hold) => hold.reason === 'overall-over-limit')?.raisedAt ?? Number.POSITIVE_INFINITY;
      const [less, more] = [first(at(1)), first(at(times))];
      expect(more).toBeLessThanOrEqual(less);
      if (Number.isFinite(less)) held += 1;
    }),
    { numRuns: 300 },
  );
  expect(held).toBeGreaterThan(10);
});

test('another unit of velocity changes nothing for a limit: readings and limit times the factor, the same holds', () => {
  let held = 0;
  const course = fc.array(fc.double({ min: 2, max: 6, noNaN: true }), { minLength: 12, maxLength: 60 });
  fc.assert(
    fc.property(course, fc.constantFrom(1 / 4, 1 / 2, 2, 4), (values, factor) => {
      const over = (times: number): readonly unknown[] => {
        const readings = values.map((mmS, n) => reading(START + 60_000 * (n + 1), 12_000, mmS * times));
        return holdsOf(run([declared(3 * times), ...readings]))
          .filter(({ reason }) => reason === 'overall-over-limit')
          .map(({ holdId, state, raisedAt }) => [holdId, state, raisedAt]);
      };
      expect(over(factor)).toEqual(over(1));
      held += over(1).length;
    }),
    { numRuns: 200 },
  );
  expect(held).toBeGreaterThan(10);
});

/** What the spindle answers with, exactly: V² = (response·U·ω²)² + own². */
interface PerfectSpindle {
  readonly responseMmS: number;
  readonly ownMmS: number;
  readonly residualsGmm: readonly number[];
}

test('a perfect sensor and no fault give no hold, however the spindle answers and whatever is clamped within its grade', () => {
  let readings = 0;
  const spindle: fc.Arbitrary<PerfectSpindle> = fc.record({
    responseMmS: fc.double({ min: 0.02, max: 0.4, noNaN: true }),
    ownMmS: fc.double({ min: 0.05, max: 0.8, noNaN: true }),
    residualsGmm: fc.array(fc.double({ min: 0.05, max: 1.8, noNaN: true }), { minLength: 4, maxLength: 12 }),
  });
  fc.assert(
    fc.property(spindle, fc.integer({ min: 6000, max: 15_000 }), ({ responseMmS, ownMmS, residualsGmm }, speedRpm) => {
      const drafts: Draft[] = [declared(4)];
      let at = START + 60_000;
      for (const [place, residualGmm] of residualsGmm.entries()) {
        drafts.push(...clamped(place, residualGmm, at));
        // The speed wanders by a thousandth, so that no reading is the one before to the last digit.
        for (let n = 0; n < 25; n += 1) {
          at += 60_000;
          const actual = speedRpm * (1 + 0.001 * Math.sin(7 * n + place));
          const forced = responseMmS * residualGmm * (actual / speedRpm) ** 2;
          drafts.push(exact(at, actual, Math.hypot(forced, ownMmS)));
          readings += 1;
        }
      }
      expect(holdsOf(run(drafts))).toEqual([]);
    }),
    { numRuns: 60 },
  );
  expect(readings).toBeGreaterThan(1000);
});

/** A new assembly, measured within its grade and loaded. Permissible are 2.39 g·mm: 1000·G·m/ω with G 2.5, 1.5 kg and 15,000 rpm. */
function clamped(place: number, residualGmm: number, at: number): Draft[] {
  const assembly = { assemblyId: `A-${place}`, buildId: `B-${place}` };
  const parts = [{ role: 'holder' as const, name: 'holder (invented)', markedMaxSpeedRpm: 40_000 }];
  const meant = { massKg: 1.5, serviceSpeedRpm: 15_000, gradeMmS: 2.5 };
  const planes = [{ name: 'P1', residualGmm, angleDeg: 30 }];
  const error = { smallestAchievableGmm: 0.02 };
  const result = {
    ...assembly,
    runId: `R-${place}`,
    stage: 'check',
    frame: 'machine',
    measuredAtRpm: 1100,
    planes,
    error,
  };
  const loaded = { spindleId: SPINDLE, action: 'load', ...assembly, programmedSpeedRpm: 6000 };
  return [
    { kind: 'build', at, device: BENCH, id: `b-${place}`, data: { ...assembly, ...meant, parts } },
    { kind: 'result', at: at + 1000, device: BENCH, id: `r-${place}`, data: result },
    { kind: 'load', at: at + 2000, device: 'machine-01', id: `l-${place}`, data: loaded },
  ] as Draft[];
}

function exact(at: number, speedRpm: number, synchronousMmS: number): Draft {
  const draft = reading(at, speedRpm, 1.02 * synchronousMmS);
  return draft.kind === 'summary' ? { ...draft, data: { ...draft.data, synchronousMmS } } : draft;
}
