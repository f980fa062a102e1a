// What the demo shows in its first minutes comes when it is announced, and ordinary life goes on where the past ended.
import { describe, expect, test } from 'vitest';
import { highestSpeedAtGradeRpm, resolveIndexing } from '../../shared/balance/index.ts';
import type { BalanceResult, Build, Load, Summary } from '../../shared/messages/index.ts';
import { MILLISECONDS_A_SECOND } from '../../shared/time.ts';
import { history, type TimedMessage } from '../../simulators/index.ts';
import { liveRun } from '../../simulators/live.ts';
import { makePlant } from '../../simulators/plant.ts';
import { STORY_S } from '../../simulators/story.ts';
import { clampedBy } from './clamped.ts';
import { InvalidData, MessageCheck } from './messages.ts';

const plant = makePlant(1);
const START = Date.UTC(2026, 10, 24, 7, 31);

/** `knownUntil` null: the journal is said to know an earlier run only. */
function played(
  seconds: number,
  { startedAt = START, knownUntil = startedAt }: { startedAt?: number; knownUntil?: number | null } = {},
): TimedMessage[] {
  const told: TimedMessage[] = [];
  const known = knownUntil === null ? {} : { knownUntil };
  for (const message of liveRun({ plant, startedAt, intervalS: 1, ...known }).messages) {
    if (message.at >= startedAt + seconds * MILLISECONDS_A_SECOND) return told;
    told.push(message);
  }
  return told;
}

function secondsOf(message: TimedMessage | undefined): number {
  return ((message?.at ?? Number.NaN) - START) / MILLISECONDS_A_SECOND;
}

function dataOf<T>(told: readonly TimedMessage[], kind: string): { message: TimedMessage; data: T }[] {
  return told
    .filter((m) => m.topic.endsWith(`/${kind}`))
    .map((message) => ({ message, data: message.envelope.data as T }));
}

const told = played(600);

describe('the first two minutes', () => {
  const results = dataOf<BalanceResult>(told, 'result');

  test('an assembly exceeds at 8 s and passes, corrected, at 75 s', () => {
    const [before, after] = results.filter(({ data }) => data.stage !== 'check');
    expect([before?.data.stage, after?.data.stage]).toEqual(['before-correction', 'after-correction']);
    expect([secondsOf(before?.message), secondsOf(after?.message)]).toEqual([STORY_S.exceeds, STORY_S.passes]);
    expect(before?.data.buildId).toBe(after?.data.buildId);
    const perKg = (result: BalanceResult | undefined): number => {
      const split = resolveIndexing(
        'machine',
        (result?.readings ?? []).map(({ indexDeg, planes }) => ({
          turnDeg: indexDeg,
          unbalance: { gmm: planes[0]?.amountGmm ?? Number.NaN, angleDeg: planes[0]?.angleDeg ?? Number.NaN },
        })),
      );
      return split.assembly.gmm / (result?.massKg ?? Number.NaN);
    };
    const permissible = ((60_000 / (2 * Math.PI)) * 6.3) / (before?.data.serviceSpeedRpm ?? Number.NaN);
    expect(perKg(before?.data) - 3).toBeGreaterThan(permissible);
    expect(perKg(after?.data) + 3).toBeLessThan(permissible);
  });

  test('a program at 25 s asks for more than the assembly is balanced for, after the question at the gate', () => {
    const load = dataOf<Load>(told, 'load').find(
      ({ data }) => data.programmedSpeedRpm === 12_000 && data.spindleId === 'S-03',
    );
    expect(secondsOf(load?.message)).toBe(STORY_S.wrongPairing);
    const question = dataOf<Load>(told, 'query').find(({ data }) => data.assemblyId === load?.data.assemblyId);
    expect(secondsOf(question?.message)).toBe(STORY_S.wrongPairing - 2);
    const assembly = plant.assemblies.find((one) => one.assemblyId === load?.data.assemblyId);
    if (assembly === undefined) throw new Error('an assembly of the plant');
    const lightest = 0.5 * 10 * assembly.massKg;
    const upTo = highestSpeedAtGradeRpm({ residualGmm: lightest, massKg: assembly.massKg, gradeMmS: 6.3 });
    expect(upTo ?? Infinity).toBeLessThan(12_100);
    const after = dataOf<Summary>(told, 'summary').filter(
      ({ message }) =>
        message.topic.includes('sensor-03') && secondsOf(message) > 25 && secondsOf(message) < STORY_S.wrongPairingEnds,
    );
    expect(after.every(({ data }) => data.speedRpm === 0)).toBe(true);
  });

  test('a spindle is over its limit before 60 s on comparable readings, and stays', () => {
    const limit = Math.max(...(plant.spindles[6]?.declared.limits ?? []).map((one) => one.limitMmS));
    const readings = dataOf<Summary>(told, 'summary').filter(({ message }) => message.topic.includes('sensor-07'));
    const early = readings.filter(({ message }) => secondsOf(message) > 27 && secondsOf(message) < 38);
    expect(Math.max(...early.map(({ data }) => data.overallMmS))).toBeLessThan(0.8 * limit);
    const later = readings.filter(({ message }) => secondsOf(message) > 55 && secondsOf(message) < 200);
    expect(later.length).toBeGreaterThan(140);
    for (const { data } of later) {
      expect(data.cutting).toBe(false);
      expect(data.overallMmS).toBeGreaterThan(limit);
    }
    expect(later.filter(({ data }) => data.steady === true).length / later.length).toBeGreaterThan(0.9);
  });

  test('one message is wrong on purpose, at 60 s; every other is valid', () => {
    const check = new MessageCheck();
    const invalid = told.filter((message) => {
      try {
        check.take(message);
        return false;
      } catch (error) {
        if (error instanceof InvalidData) return true;
        throw error;
      }
    });
    expect(invalid.map(secondsOf)).toEqual([STORY_S.malformed]);
    expect(Object.keys(check.counts).toSorted()).toEqual(
      ['build', 'correction', 'load', 'machine', 'query', 'result', 'summary', 'wave'].toSorted(),
    );
  });
});

describe('the minutes after', () => {
  test('a changed cutter is loaded unmeasured at 150 s, taken out, and measured at last', () => {
    const build = dataOf<Build>(told, 'build').find(({ message }) => secondsOf(message) === STORY_S.changedUnmeasured);
    const buildId = build?.data.buildId;
    const loads = dataOf<Load>(told, 'load').filter(({ data }) => data.buildId === buildId);
    expect(loads.map(({ message, data }) => [data.action, secondsOf(message)])).toEqual([
      ['load', STORY_S.changedLoaded],
      ['unload', STORY_S.changedUnloaded],
    ]);
    const [result] = dataOf<BalanceResult>(told, 'result').filter(({ data }) => data.buildId === buildId);
    expect(secondsOf(result?.message)).toBe(STORY_S.changedMeasured);
  });

  test('a sensor says nothing from 200 s to 500 s, and its sequence has no gap afterwards', () => {
    const times = dataOf<Summary>(told, 'summary')
      .filter(({ message }) => message.topic.includes('sensor-11'))
      .map(({ message }) => secondsOf(message));
    expect(times.filter((time) => time >= STORY_S.silent && time < STORY_S.silentEnds)).toEqual([]);
    expect(times.filter((time) => time >= STORY_S.silentEnds).length).toBeGreaterThan(90);
  });

  test('each of twelve sensors reads once a second', () => {
    const readings = dataOf<Summary>(told, 'summary');
    expect(readings).toHaveLength(12 * 600 - (STORY_S.silentEnds - STORY_S.silent));
  });
});

describe('labels', () => {
  test('name every scene with its subject and its time', () => {
    const { labels } = liveRun({ plant, startedAt: START, intervalS: 1, knownUntil: START });
    const at = (seconds: number): number => START + seconds * MILLISECONDS_A_SECOND;
    expect(labels.map(({ kind, subject, from, to }) => ({ kind, id: subject.id, from, to }))).toEqual([
      { kind: 'residual-exceeds', id: 'A-0116', from: at(STORY_S.exceeds), to: at(STORY_S.passes) },
      { kind: 'wrong-pairing', id: 'S-03', from: at(STORY_S.wrongPairing), to: at(STORY_S.wrongPairingEnds) },
      {
        kind: 'spindle-unbalance-growing',
        id: 'S-07',
        from: at(STORY_S.unbalanceGrows),
        to: at(STORY_S.unbalanceEnds),
      },
      { kind: 'malformed-message', id: 'bench-2', from: at(STORY_S.malformed), to: at(STORY_S.malformed) + 1 },
      {
        kind: 'cutter-changed-unmeasured',
        id: 'A-0108',
        from: at(STORY_S.changedLoaded),
        to: at(STORY_S.changedUnloaded),
      },
      { kind: 'sensor-silent', id: 'S-11', from: at(STORY_S.silent), to: at(STORY_S.silentEnds) },
    ]);
  });
});

describe('where the past ended, life goes on', () => {
  test.each([0, 13_000, 3_600_000])(
    'with %i ms between: nothing is clamped twice, nothing comes out that was not in',
    (gapMs) => {
      const clamped = clampedBy(history({ seed: 1, until: START, days: 1 }));
      expect(clamped.follow(played(300, { startedAt: START + gapMs, knownUntil: START }))).toEqual([]);
    },
  );

  test('after an earlier run everything is told again, under the same ids where it is the same', () => {
    const again = played(1, { startedAt: START + 1000, knownUntil: null });
    const before = new Set([...history({ seed: 1, until: START, days: 30 })].map((message) => message.envelope.id));
    const benchMessages = again.filter((m) => m.topic.endsWith('/build') || m.topic.endsWith('/result'));
    expect(benchMessages.length).toBeGreaterThan(80);
    expect(benchMessages.every((message) => before.has(message.envelope.id))).toBe(true);
    const { bySpindle } = clampedBy(history({ seed: 1, until: START + 1000, days: 1 }));
    expect(clampedBy(again).bySpindle).toEqual(bySpindle);
  });

  test('the same start gives the same run', () => {
    expect(played(20)).toEqual(played(20));
  });
});
