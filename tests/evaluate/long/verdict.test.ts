// A scenario judged by what a made-up rule tells: found, named, too late, for nothing.
import { expect, test } from 'vitest';
import type { CauseFinding } from '../../../shared/causes.ts';
import type { Hold } from '../../../shared/holds.ts';
import { factorOf, LongScenario, type LongLabel } from '../../../simulators/index.ts';
import { longFiguresOf } from './figures.ts';
import type { HoldTold, Played } from './play.ts';
import { judgeScenario } from './verdict.ts';

/** A tuning seed in which a spindle's own unbalance more than doubles from load to load, and nothing else is wrong. */
const SEED = 6;

function scenario(): { readonly it: LongScenario; readonly label: LongLabel } {
  const it = new LongScenario(SEED);
  for (let draft = it.next(); draft !== undefined;) draft = it.next();
  const [label] = it.labels;
  if (label === undefined) throw new Error('nothing was planted');
  return { it, label };
}

function told(at: number, spindleId: string, named: 'spindle' | 'assembly' | undefined): HoldTold {
  const hold: Hold = {
    holdId: `H-${at}`,
    subject: { kind: 'spindle', id: spindleId },
    reason: 'vibration-unexplained',
    state: 'raised',
    raisedAt: at,
    evidence: { positions: [], clauses: [], spindleId },
    conditions: [],
    steps: [],
    dependents: [],
  };
  const finding: CauseFinding = {
    at,
    position: 1,
    spindleId,
    speedRpm: 9000,
    observedMmS: 2,
    loads: 9,
    shares: [
      { cause: 'spindle', of: spindleId, probability: named === 'assembly' ? 0.1 : 0.85 },
      { cause: 'assembly', of: 'A-0001', probability: named === 'assembly' ? 0.85 : 0.1 },
    ],
    unknown: 0.05,
    ...(named === undefined ? {} : { named }),
    ruledOut: [],
    experiments: [],
  };
  return { hold, findings: [finding], steps: [], repeats: 0 };
}

const played = (...holds: readonly HoldTold[]): Played => ({
  entries: 1,
  readings: 1,
  holds,
  states: [],
  failures: [],
});

const { it, label } = scenario();
const [first] = label.loads;
const third = label.loads[2];
const other = label.subject.id === 'S-01' ? 'S-02' : 'S-01';

test('the scenario is what the other tests take it for', () => {
  expect(label.kind).toBe('own-unbalance-ramp');
  expect(factorOf(label)).toBeGreaterThan(2);
  expect(first).toBeDefined();
});

test('found in the third load, by the right cause', () => {
  const { faults, forNothing } = judgeScenario(
    it,
    played(told((third?.load.at ?? 0) + 1, label.subject.id, 'spindle')),
  );
  expect(forNothing).toEqual([]);
  expect(faults).toMatchObject([{ delayLoads: 3, told: { named: 'spindle', isRight: true } }]);
  expect(faults[0]?.informedLoads).toBeGreaterThanOrEqual(1);
  expect(faults[0]?.informedCause).toEqual({ isNamed: true, isRight: true });
});

test('the last word counts, and it may be wrong or none', () => {
  const at = (third?.load.at ?? 0) + 1;
  const wrong = judgeScenario(
    it,
    played(told(at, label.subject.id, 'spindle'), told(at + 1, label.subject.id, 'assembly')),
  );
  expect(wrong.faults[0]?.told).toMatchObject({ named: 'assembly', isRight: false });
  const open = judgeScenario(it, played(told(at, label.subject.id, undefined)));
  expect(open.faults[0]?.told).toMatchObject({ named: undefined, isRight: false });
});

test('what is weighed once it was put right does not count', () => {
  const hold = told((third?.load.at ?? 0) + 1, label.subject.id, 'spindle');
  const [finding] = hold.findings;
  if (finding !== undefined) hold.findings.push({ ...finding, at: label.to + 1, named: 'assembly' });
  expect(judgeScenario(it, played(hold)).faults[0]?.told).toMatchObject({ named: 'spindle', isRight: true });
});

test('before it began, and elsewhere, a hold is for nothing and finds nothing', () => {
  const verdict = judgeScenario(
    it,
    played(told(label.from - 1, label.subject.id, 'spindle'), told(label.from + 1, other, 'spindle')),
  );
  expect(verdict.forNothing).toHaveLength(2);
  expect(verdict.faults[0]?.delayLoads).toBeUndefined();
  const figures = new Map(longFiguresOf([verdict]).map((figure) => [figure.name, figure]));
  expect(figures.get('decide.false_holds_per_1000_spindle_days')?.value).toBeCloseTo(2000 / it.spindleDays, 1);
  expect(figures.get('decide.detected_2x')).toMatchObject({ value: 0, of: 1 });
  expect(figures.get('decide.delay_ratio_to_informed')?.value).toBe(Infinity);
});

test('more than 200 loads later is not found', () => {
  const late = label.loads[250]?.load.at ?? 0;
  expect(judgeScenario(it, played(told(late + 1, label.subject.id, 'spindle'))).faults[0]?.delayLoads).toBeUndefined();
});
