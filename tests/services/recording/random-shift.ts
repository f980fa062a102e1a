// A shift of an invented plant in which anything may happen next: for promises that hold whatever had come.
import * as fc from 'fast-check';
import type { Actor } from '../../../shared/acts.ts';
import type { BalanceResult } from '../../../shared/messages/index.ts';
import { HOLD_ACTS } from '../../../shared/rights.ts';
import { inTopic, TOPIC_ROOT } from '../../../shared/topics.ts';
import { history, type TimedMessage } from '../../../simulators/index.ts';
import { PLANT, START, type RunningPlant } from './running-plant.ts';

/** A shift and its story: quiet machines, a bench, an exceeding result and its correction now and then. */
export const PAST: readonly TimedMessage[] = [
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
export const BINDINGS = { 'sensor-01': { kind: 'sensor', serves: ['S-99'] } } as const;

export type Step =
  | { readonly does: 'send'; readonly count: number; readonly bare: boolean }
  | { readonly does: 'send again'; readonly back: number; readonly otherwise: boolean }
  | { readonly does: 'send rubbish'; readonly topic: string; readonly payload: string }
  | { readonly does: 'act'; readonly act: (typeof HOLD_ACTS)[number]; readonly which: number; readonly who: Actor }
  | { readonly does: 'put on record'; readonly kind: keyof typeof OF_THE_TOOL_ROOM }
  | { readonly does: 'retry'; readonly which: number }
  | { readonly does: 'tick' }
  | { readonly does: 'snapshot' }
  | { readonly does: 'merge' }
  | { readonly does: 'restart' };

export const step: fc.Arbitrary<Step> = fc.oneof(
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
  { weight: 1, arbitrary: fc.record({ does: fc.constantFrom('restart', 'snapshot', 'merge') }) },
) as fc.Arbitrary<Step>;

const bytesOf = (envelope: unknown): Uint8Array => Buffer.from(JSON.stringify(envelope));
const delivery = (topic: string, payload: Uint8Array, at: number) => ({
  topic,
  payload,
  at,
  connection: 1,
  dup: false,
});

export class Shift {
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
      case 'snapshot':
        await journal.saveSnapshot(await keeper.snapshot());
        return;
      case 'merge':
        await journal.compact();
        return;
      case 'restart':
        await this.ran.restart();
    }
  }
}
