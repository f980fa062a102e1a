// The invented past: valid, in time order, the same for the same seed, as many readings as it says, and quiet.
import { describe, expect, test } from 'vitest';
import { ACT_TYPES } from '../../shared/acts.ts';
import type { Summary } from '../../shared/messages/index.ts';
import { MILLISECONDS_A_DAY, instantOf } from '../../shared/time.ts';
import { parseTopic } from '../../shared/topics.ts';
import { demoPlant, history, type TimedMessage } from '../../simulators/index.ts';
import { Clamped } from './clamped.ts';
import { MessageCheck } from './messages.ts';

const UNTIL = Date.UTC(2026, 10, 24, 7, 31);
const days = 6;

function channelOf(message: TimedMessage): string {
  const place = parseTopic(message.topic);
  return place?.direction === 'in' ? place.channel : 'act';
}

describe('six days of the past', () => {
  const told = [...history({ seed: 1, until: UNTIL, days })];

  test('are valid, in time order, no message twice, every sequence without a gap', () => {
    const check = new MessageCheck();
    for (const message of told) check.take(message);
    expect(check.counts).toMatchObject({ act: 12, birth: 25, state: 25, summary: 12 * 288 * days, proof: 2 * days });
  });

  test('begin with the declarations and end before `until`', () => {
    expect(told.slice(0, 12).every((message) => message.envelope.type === ACT_TYPES['spindle-declared'])).toBe(true);
    expect(told[0]?.at).toBe(UNTIL - days * MILLISECONDS_A_DAY);
    expect(told.at(-1)?.at).toBeLessThan(UNTIL);
    expect(told.at(-1)?.at).toBeGreaterThan(UNTIL - 300_000);
  });

  test('are the same for the same seed and others for another', () => {
    expect([...history({ seed: 1, until: UNTIL, days: 1 })]).toEqual([...history({ seed: 1, until: UNTIL, days: 1 })]);
    const [first] = [...history({ seed: 2, until: UNTIL, days: 1 })].filter((m) => channelOf(m) === 'summary');
    expect(first).not.toEqual(told.find((m) => channelOf(m) === 'summary'));
  });

  test('clamp every assembly in one spindle at a time, into a spindle that is empty, built and measured before', () => {
    const clamped = new Clamped();
    expect(clamped.follow(told)).toEqual([]);
    expect(clamped.bySpindle.size).toBeGreaterThanOrEqual(10);
  });

  test('loads follow each other every 20 to 90 minutes', () => {
    const loads = told.filter(
      (m) => channelOf(m) === 'load' && (m.envelope.data as { action: string }).action === 'load',
    );
    const perSpindleDay = loads.length / 12 / days;
    expect(perSpindleDay).toBeGreaterThan(18);
    expect(perSpindleDay).toBeLessThan(40);
  });
});

describe.each([1, 2, 3])('a month of the past, seed %i', (seed) => {
  const limits = new Map(demoPlant(seed).spindles.map((spindle) => [spindle.spindleId, spindle.limits]));

  test('stays well below the limits wherever it can be compared, and turns where it should', () => {
    const running: number[] = [];
    for (const message of history({ seed, until: UNTIL, days: 30 })) {
      if (channelOf(message) !== 'summary') continue;
      const data = message.envelope.data as Summary;
      if (data.speedRpm === 0 || data.cutting === true) continue;
      const spindleId = `S-${message.envelope.source.slice(-2)}`;
      for (const limit of limits.get(spindleId) ?? []) {
        if (data.speedRpm < limit.fromSpeedRpm || data.speedRpm > limit.toSpeedRpm) continue;
        const value = limit.quantity === 'overall' ? data.overallMmS : (data.synchronousMmS ?? 0);
        expect(value / limit.limitMmS).toBeLessThan(0.85);
      }
      running.push(data.overallMmS);
    }
    running.sort((a, b) => a - b);
    const quantile = (share: number): number => running[Math.floor(share * (running.length - 1))] ?? 0;
    expect(quantile(0.05)).toBeGreaterThan(0.12);
    expect(quantile(0.5)).toBeGreaterThan(0.2);
    expect(quantile(0.999)).toBeLessThan(1.6);
  });
});

test('may have fewer readings of long ago, and all else of it', () => {
  const whole = [...history({ seed: 1, until: UNTIL, days })];
  const thinned = [...history({ seed: 1, until: UNTIL, days, sparse: { olderThanDays: 2, intervalS: 1800 } })];
  const check = new MessageCheck();
  for (const message of thinned) check.take(message);
  const others = (told: readonly TimedMessage[]) => told.filter((m) => channelOf(m) !== 'summary').map(({ at }) => at);
  expect(others(thinned)).toEqual(others(whole));
  const readings = (from: number, until: number): number =>
    thinned.filter(
      (m) =>
        channelOf(m) === 'summary' &&
        m.at >= UNTIL - from * MILLISECONDS_A_DAY &&
        m.at < UNTIL - until * MILLISECONDS_A_DAY,
    ).length;
  expect(readings(2, 0)).toBe(12 * 288 * 2);
  expect(readings(5, 3)).toBe(12 * 48 * 2);
});

test('what is told at the opening was measured before it', () => {
  const from = UNTIL - MILLISECONDS_A_DAY;
  const opening = [...history({ seed: 1, until: UNTIL, days: 1 })].filter(
    ({ envelope, at }) => at === from && envelope.type.startsWith('counterpoise.balance'),
  );
  expect(opening.length).toBeGreaterThanOrEqual(40);
  expect(opening.filter(({ envelope }) => instantOf(envelope.time ?? '') >= from)).toEqual([]);
});

test('a planted fault is felt by what it names, while it lasts, and by nobody else', () => {
  const from = UNTIL - 20 * 3_600_000;
  const to = UNTIL - 6 * 3_600_000;
  const fault = {
    kind: 'spindle-unbalance-growing',
    subject: { kind: 'spindle', id: 'S-02' },
    from,
    to,
    size: 15,
  } as const;
  const quiet = [...history({ seed: 1, until: UNTIL, days: 1 })];
  const planted = [...history({ seed: 1, until: UNTIL, days: 1, faults: [fault] })];
  const differing = planted.filter((message, nth) => JSON.stringify(message) !== JSON.stringify(quiet[nth]));
  expect(planted).toHaveLength(quiet.length);
  expect(differing.length).toBeGreaterThan(100);
  expect(differing.filter(({ topic, at }) => !topic.includes('/sensor-02/') || at < from || at >= to)).toEqual([]);
  const once = (messages: readonly TimedMessage[]): number =>
    Math.max(...messages.map(({ envelope }) => (envelope.data as Summary).synchronousMmS ?? 0));
  expect(once(differing)).toBeGreaterThan(1);
});
