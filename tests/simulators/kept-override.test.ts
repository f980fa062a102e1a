// The demonstration's override: turned down around a rise, kept down, and found by the rules; of no other spindle is it said.
import { expect, test } from 'vitest';
import type { Entry } from '../../shared/entries.ts';
import type { OverrideKept } from '../../shared/headroom.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR } from '../../shared/time.ts';
import { parseTopic } from '../../shared/topics.ts';
import { history, type TimedMessage } from '../../simulators/index.ts';
import { KEPT_OVERRIDE_DAYS } from '../../simulators/kept-override.ts';
import { decide, emptyFloor, evolve } from '../../services/rules/index.ts';

/** The demonstration begins whenever somebody starts it. */
const STARTS = ['2026-11-24T07:31:00Z', '2026-11-29T01:25:00Z', '2027-02-03T16:02:00Z'];
/** The one that it is about, and another of its cell: all twelve would take minutes. */
const LOOKED_AT = new Set(['S-01', 'S-02']);
const KINDS = new Set(['summary', 'machine', 'load', 'build', 'result']);

function entryOf({ topic, envelope, at }: TimedMessage, position: number): Entry | undefined {
  const place = parseTopic(topic);
  const sent = { position, at, id: envelope.id, device: envelope.source };
  if (place?.direction !== 'in') {
    const kind = envelope.type.includes('.spindle.') ? 'spindle-declared' : 'rates-declared';
    return { ...sent, kind, actor: { name: 'e', roles: ['engineer'] }, data: envelope.data } as unknown as Entry;
  }
  if (!KINDS.has(place.channel)) return undefined;
  const { spindleId } = envelope.data as { spindleId?: string };
  if (spindleId !== undefined && !LOOKED_AT.has(spindleId)) return undefined;
  if (place.channel === 'summary' && !LOOKED_AT.has(`S-${envelope.source.slice(-2)}`)) return undefined;
  const data = place.channel === 'summary' ? { spindleId: `S-${envelope.source.slice(-2)}` } : {};
  return { ...sent, kind: place.channel, data: { ...data, ...(envelope.data as object) } } as unknown as Entry;
}

test.each(STARTS)('it is found within days, of no other spindle, and holds nothing: %s', (start) => {
  const until = Date.parse(start);
  const floor = emptyFloor('demo');
  const kept: [string, OverrideKept][] = [];
  const held: string[] = [];
  let position = 0;
  for (const message of history({
    seed: 1,
    until,
    days: KEPT_OVERRIDE_DAYS + 14,
    intervalS: 600,
    demonstrates: true,
  })) {
    const entry = entryOf(message, position + 1);
    if (entry === undefined) continue;
    position += 1;
    const outcomes = decide(floor, entry);
    for (const outcome of outcomes) {
      if (outcome.kind === 'override-kept') kept.push([outcome.spindleId, outcome.kept]);
      if (outcome.kind === 'hold-raised') held.push(`${outcome.hold.subject.id} ${outcome.hold.reason}`);
    }
    evolve(floor, entry, outcomes);
  }
  const since = until - KEPT_OVERRIDE_DAYS * MILLISECONDS_A_DAY;
  expect(held.filter((one) => /vibration|over-limit/.test(one))).toEqual([]);
  expect(kept.map(([spindleId, { state }]) => [spindleId, state])).toEqual([['S-01', 'kept']]);
  expect(kept[0]?.[1]).toMatchObject({ fromPercent: 100, toPercent: 75 });
  const days = ((kept[0]?.[1].at ?? 0) - since) / MILLISECONDS_A_DAY;
  expect(days).toBeGreaterThan(0);
  expect(days).toBeLessThan(3.5);
  expect(floor.headroom.get('S-01')?.watch?.awayMs).toBeGreaterThan(5 * MILLISECONDS_AN_HOUR);
  expect(floor.rates?.currency).toBe('EUR');
});
