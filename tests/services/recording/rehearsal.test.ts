// A rehearsal of an export is the journal again, bit for bit, whatever had come: the promise that every try-out rests on.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { rehearse, type Rehearsed } from '../../../services/recording/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { BINDINGS, PAST, Shift, step } from './random-shift.ts';
import { eachOf, expectSameRehearsed, PLANT, RunningPlant } from './running-plant.ts';

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
