// A rehearsal of an export is the journal again, bit for bit, whatever had come: the promise that every try-out rests on.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { rehearse, type Rehearsed } from '../../../services/recording/index.ts';
import type { Actor } from '../../../shared/acts.ts';
import type { BalanceResult } from '../../../shared/messages/index.ts';
import { HOLD_ACTS } from '../../../shared/rights.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { inTopic, TOPIC_ROOT } from '../../../shared/topics.ts';
import { history, type TimedMessage } from '../../../simulators/index.ts';
import { eachOf, expectSameRehearsed, PLANT, RunningPlant, START } from './running-plant.ts';

/** A shift and its story: quiet machines, a bench, an exceeding result and its correction now and then. */
const PAST: readonly TimedMessage[] = [
  ...history({ seed: 3, until: START, days: 1, intervalS: 900, plantId: PLANT, faults: [] }),
];
const DECLARED = PAST.filter(({ topic }) => topic.includes('/act/'));
const SENT = PAST.filter(({ topic }) => !topic.includes('/act/'));
const EVA: Actor = { name: 'eva', roles: ['maintenance', 'tool-room', 'engineer'] };
const OTTO: Actor = { name: 'otto', roles: ['viewer'] };

const measured = SENT.flatMap(({ topic, envelope }) => (topic.endsWith('/result') ? [envelope.data] : []));

/** Acts of the tool room, of something that is there. */
const OF_THE_TOOL_ROOM = {
  'correction-recorded': (nth: number): object => {
    const { assemblyId, buildId } = measured[nth % measured.length] as BalanceResult;
    return { assemblyId, buildId, steps: [{ featureId: 'collar', angleDeg: nth % 360, diameterMm: 4, depthMm: 1 }] };
  },
  'doubt-lifted': (nth: number): object => ({ benchId: `bench-${1 + (nth % 2)}`, note: 'the rotor was dirty' }),
  'reference-declared': (nth: number): object => ({
    interfaces: [{ interfaceKind: 'hsk', lowUm: 1, highUm: 1 + (nth % 3), source: 'our own trials (invented)' }],
  }),
} as const;

/** What a device is bound to, so that a message may be refused for what no recording tells. */
const BINDINGS = { 'sensor-01': { kind: 'sensor', serves: ['S-99'] } } as const;

type Step =
  | { readonly does: 'send'; readonly count: number; readonly bare: boolean }
  | { readonly does: 'send again'; readonly back: number; readonly otherwise: boolean }
  | { readonly does: 'send rubbish'; readonly topic: string; readonly payload: string }
  | { readonly does: 'act'; readonly act: (typeof HOLD_ACTS)[number]; readonly which: number; readonly who: Actor }
  | { readonly does: 'put on record'; readonly kind: keyof typeof OF_THE_TOOL_ROOM }
  | { readonly does: 'retry'; readonly which: number }
  | { readonly does: 'tick' }
  | { readonly does: 'restart' };

const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({ does: fc.constant('send'), count: fc.integer({ min: 1, max: 120 }), bare: fc.boolean() }),
  },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('send again'), back: fc.nat(40), otherwise: fc.boolean() }) },
  {
    weight: 2,
    arbitrary: fc.record({
      does: fc.constant('send rubbish'),
      topic: fc.constantFrom(
        inTopic(PLANT, 'bench-1', 'result'),
        inTopic(PLANT, 'sensor-01', 'summary'),
        inTopic('other', 'bench-1', 'result'),
        `${TOPIC_ROOT}/${PLANT}`,
        'x',
      ),
      payload: fc.constantFrom(
        '',
        'residual=3',
        '{}',
        '{"specversion":"1.0"}',
        '\u0000\uD800',
        '{"spindleId":"S-01","speedRpm":12000,"overallMmS":0.7}',
      ),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      does: fc.constant('act'),
      act: fc.constantFrom(...HOLD_ACTS),
      which: fc.nat(20),
      who: fc.constantFrom(EVA, OTTO),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      does: fc.constant('put on record'),
      kind: fc.constantFrom('correction-recorded', 'doubt-lifted', 'reference-declared'),
    }),
  },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('retry'), which: fc.nat(5) }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('tick') }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('restart') }) },
) as fc.Arbitrary<Step>;

const bytesOf = (envelope: unknown): Uint8Array => Buffer.from(JSON.stringify(envelope));
const delivery = (topic: string, payload: Uint8Array, at: number) => ({
  topic,
  payload,
  at,
  connection: 1,
  dup: false,
});

class Shift {
  readonly ran: RunningPlant;
  #sent = 0;

  constructor(ran: RunningPlant) {
    this.ran = ran;
  }

  async declare(): Promise<void> {
    for (const { envelope } of DECLARED) {
      await this.ran.plant.act({ name: 'invented-engineer', roles: ['engineer'] }, 'spindle-declared', envelope.data);
    }
  }

  async do(what: Step): Promise<void> {
    const { plant, keeper, journal } = this.ran;
    this.ran.now += 1000;
    switch (what.does) {
      case 'send': {
        const messages = SENT.slice(this.#sent, (this.#sent += what.count));
        const packets = messages.map(({ topic, envelope }, place) =>
          delivery(topic, bytesOf(what.bare && place % 7 === 0 ? envelope.data : envelope), this.ran.now),
        );
        await plant.admit(packets);
        return;
      }
      case 'send again': {
        const known = SENT[Math.max(0, this.#sent - 1 - what.back)];
        if (known === undefined) return;
        const envelope = what.otherwise ? { ...known.envelope, subject: 'otherwise' } : known.envelope;
        // Twice in one batch, and before others: what is new of it stands behind them.
        const twice = [envelope, known.envelope].map((one) => delivery(known.topic, bytesOf(one), this.ran.now));
        await plant.admit(twice);
        return;
      }
      case 'send rubbish':
        await plant.admit([delivery(what.topic, Buffer.from(what.payload), this.ran.now)]);
        return;
      case 'act': {
        const holds = keeper.allHolds();
        const holdId = holds[what.which % Math.max(1, holds.length)]?.holdId ?? 'H-0-1';
        await plant.act(what.who, 'hold-act', { act: what.act, holdId, note: 'seen to' });
        return;
      }
      case 'put on record':
        await plant.act(EVA, what.kind, OF_THE_TOOL_ROOM[what.kind](this.#sent));
        return;
      case 'retry': {
        const rows = await journal.rejected({ limit: 6 });
        const row = rows[what.which % Math.max(1, rows.length)];
        if (row !== undefined) await plant.retry(EVA, row.position);
        return;
      }
      case 'tick':
        await plant.tick();
        return;
      case 'restart':
        await this.ran.restart();
    }
  }
}

test('whatever had come, the rehearsal of the export gives the same positions, outcomes and holds', async () => {
  let holds = 0;
  let rejected = 0;
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 5, maxLength: 40 }), async (steps) => {
      const ran = await RunningPlant.open(BINDINGS);
      const shift = new Shift(ran);
      await shift.declare();
      for (const one of steps) await shift.do(one);
      const report = await expectSameRehearsed(ran);
      holds += report.holds.length;
      rejected += report.rejected;
      expect(report.duplicates).toBe(0);
    }),
    { numRuns: 40 },
  );
  // A property over nothing would hold too.
  expect(holds).toBeGreaterThan(0);
  expect(rejected).toBeGreaterThan(0);
}, 120_000);

test('a plant’s own history, in which nobody wrote ticks down, gets them between its lines', async () => {
  const lines = PAST.map(({ topic, at, envelope }) => JSON.stringify({ topic, at: rfc3339Of(at), envelope }));
  const half = lines.length / 2;
  const silenced = lines.filter((line, place) => place < half || !line.includes('/sensor-01/summary"'));
  const statesWith = async (tickMs: number): Promise<string[]> => {
    const said: Rehearsed[] = [];
    await rehearse(eachOf(silenced), { tickMs, say: (one) => void said.push(one) });
    return said.flatMap((one) => (one.kind === 'state-changed' ? [`${one.subject.id} ${one.state}`] : []));
  };
  expect(await statesWith(60_000)).toContain('S-01 silent');
  expect(await statesWith(0)).toEqual([]);
}, 60_000);

test('lines that cannot be read are named with their number, and the others still count', async () => {
  const [first = ''] = PAST.map(({ topic, at, envelope }) => JSON.stringify({ topic, at: rfc3339Of(at), envelope }));
  const said: Rehearsed[] = [];
  const report = await rehearse(
    eachOf([first, 'no JSON', '', '{"topic":"x"}', first.replace(`/${PLANT}/act/`, '/elsewhere/act/')]),
    { tickMs: 0, say: (one) => void said.push(one) },
  );
  expect(report).toMatchObject({ lines: 5, faults: 3, kept: 1 });
  expect(said.filter(({ kind }) => kind === 'line-fault')).toEqual([
    { kind: 'line-fault', line: 2, why: 'expected one JSON object a line' },
    { kind: 'line-fault', line: 4, why: 'at: expected an RFC 3339 time such as 2026-11-24T07:31:05.120Z' },
    { kind: 'line-fault', line: 5, why: 'topic: expected plant p1' },
  ]);
});

test('nothing recorded is nothing said', async () => {
  const report = await rehearse(eachOf([]), { tickMs: 10_000, say: () => undefined });
  expect(report).toMatchObject({ lines: 0, position: 0, holds: [] });
});
